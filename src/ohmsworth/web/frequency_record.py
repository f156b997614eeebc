"""Takes played and recorded from the page over frequency: begun, watched, stopped, kept."""

from __future__ import annotations

from shutil import rmtree

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, Response
from starlette.exceptions import HTTPException

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.web.aside import aside_of
from ohmsworth.web.at_hand import desk_of, go_to, shop_of, study_state
from ohmsworth.web.bench_form import read_bench_form
from ohmsworth.web.forms import Posted, Sent
from ohmsworth.web.frequency_page import KeptPart
from ohmsworth.web.frequency_record_part import Chosen, Levels, read_chosen, sound_part
from ohmsworth.web.frequency_show import Shown, frequency_page, loaded_of
from ohmsworth.web.frequency_takes import keep_here
from ohmsworth.web.pages import drawn, show
from ohmsworth.web.recorder import AtHand, Recorder, kind_of, recorder_of
from ohmsworth.work.audio_ports import AudioDevice, Channels
from ohmsworth.work.closed import refuse_closed
from ohmsworth.work.keep_take import planned
from ohmsworth.work.record_take import Bench
from ohmsworth.work.study_tones import tones_of
from ohmsworth.work.uploads import Upload

pages = APIRouter(prefix="/studies/{study}/frequency/record")


@pages.post("/begin")
def begin(request: Request, study: int, sent: Posted) -> Response:
    """Say which contact is connected, and to what; nothing is played yet."""
    form, chosen = read_bench_form(sent), read_chosen(sent)
    key = sent.text("key") or shop_of(request).new_key()
    try:
        _begin(request, study, sent, chosen, key)
    except InputRefused as refused:
        shown = Shown(contact=form, key=key, looked=True, chosen=chosen, record_wrong=refused.faults)
        return show(request, frequency_page(request, study, shown), 422)
    return go_to(_page(study))


def _begin(request: Request, study: int, sent: Sent, chosen: Chosen, key: str) -> None:
    shop, state, recorder = shop_of(request), study_state(request, study), recorder_of(request)
    refuse_closed(state)
    tones = planned(tones_of(shop, study, state, desk_of(request)))
    device, faults = _device(recorder, chosen)
    channels, more = _channels(chosen, tones.wishes.channels)
    faults += more
    if not chosen.ticked:
        mend = "Read them, do what they say, and tick the box below them."
        faults.append(Fault("the cautions", "not ticked", "a tick: it is all so", mend))
    if faults or device is None or channels is None:
        raise InputRefused(tuple(faults))
    folder = aside_of(request).folder()
    try:
        bench = Bench(folder, loaded_of(tones), tones.plan, device, channels)
        recorder.begin(AtHand(key, study, read_bench_form(sent), bench))
    except InputRefused:
        rmtree(folder, ignore_errors=True)
        raise


def _device(recorder: Recorder, chosen: Chosen) -> tuple[AudioDevice | None, list[Fault]]:
    """The interface by its number in the list; raises InputRefused where none can be looked for."""
    found = recorder.ports().devices.found()
    text = chosen.device
    if text.isascii() and text.isdigit() and 1 <= int(text[:6]) <= len(found):
        return found[int(text) - 1], []
    mend = "Choose the one that the card is wired to: tones are not played on whatever comes first."
    return None, [Fault("interface", "none", "one of the list", mend)]


def _channels(chosen: Chosen, outputs: int) -> tuple[Channels | None, list[Fault]]:
    inputs, playing = _numbers(f"{chosen.first} {chosen.second}"), _numbers(chosen.outputs)
    faults = []
    if len(inputs) != 2:
        found = f"{chosen.first} and {chosen.second}" if chosen.first or chosen.second else "nothing"
        mend = "Count the inputs of the interface from 1."
        faults.append(Fault("inputs", found, "two different numbers from 1 on", mend))
    if chosen.outputs and not playing:
        mend = "Count the outputs from 1; leave it empty for those that the plan says."
        faults.append(Fault("outputs", chosen.outputs[:40], "different numbers from 1 on", mend))
    if faults:
        return None, faults
    return Channels((inputs[0], inputs[1]), playing or tuple(range(1, outputs + 1))), []


def _numbers(text: str) -> tuple[int, ...]:
    """Different channels by their numbers; none where it is anything else."""
    words = text.replace(",", " ").split()
    if not all(word.isascii() and word.isdigit() and 0 < int(word[:4]) < 1000 for word in words):
        return ()
    numbers = tuple(map(int, words))
    return numbers if len(set(numbers)) == len(numbers) else ()


@pages.post("/play")
def play(request: Request, study: int, sent: Posted) -> Response:
    """Play the level check alone, or play and record a take; it goes on while the page that asked for it is there."""
    recorder, hand = recorder_of(request), _hand(request, study)
    key = sent.text("key") or shop_of(request).new_key()
    take = next((one for one in hand.takes if kind_of(one) == sent.text("take")), None)
    if take is None:
        raise HTTPException(404)
    try:
        recorder.play(key, take, sent.text("do") == "level")
    except InputRefused as refused:
        shown = Shown(looked=True, record_wrong=refused.faults)
        return show(request, frequency_page(request, study, shown), 422)
    return go_to(_page(study, key))


def _hand(request: Request, study: int) -> AtHand:
    """The contact of this study that is at hand; raises InputRefused."""
    hand = recorder_of(request).at_hand()
    if hand is None or hand.study != study:
        mend = "Say which contact is connected, and tick the cautions."
        raise InputRefused((Fault("recording", "no contact", "one to be recorded", mend),))
    return hand


@pages.get("/now")
def now(request: Request, study: int, holder: str = "") -> Response:
    """The levels as they are; whoever has begun the sound holds on to it by asking. In the end the page looks anew."""
    recorder = recorder_of(request)
    hand, run = recorder.at_hand(), recorder.runs.last()
    if hand is None or run is None or hand.study != study:
        return Response(status_code=204, headers={"HX-Refresh": "true"})
    state = run.watch(holder)
    part = Levels(sound=sound_part(state, hand, holder), address=f"/studies/{study}/frequency")
    return HTMLResponse(drawn(request, part), headers={"HX-Refresh": "true"} if state.over else {})


@pages.post("/stop")
def stop(request: Request, study: int, sent: Posted) -> Response:
    """Silence at once; a page that is `leaving` ends only what it has begun itself."""
    run, leaving = recorder_of(request).runs.last(), sent.text("leaving")
    if run is not None and (not leaving or leaving == run.state().key):
        run.stop()
        run.join(PATIENCE)
    return Response(status_code=204) if leaving else go_to(_page(study))


#: Seconds within which a sound is faded and its device let go.
PATIENCE = 5.0


@pages.post("/keep")
def keep(request: Request, study: int) -> Response:
    """Find the impedance in what was recorded here, as in recordings that are sent."""
    recorder, hand = recorder_of(request), _hand(request, study)
    kept: KeptPart
    try:
        _refuse_unfinished(hand)
        uploads = {kind: (Upload(path.name, path),) for kind, path in hand.recorded().items()}
        kept = keep_here(request, study, hand.form, uploads, hand.key)
    except InputRefused as refused:
        shown = Shown(looked=True, record_wrong=refused.faults)
        return show(request, frequency_page(request, study, shown), 422)
    recorder.give_up()
    shown = Shown(kept=kept, looked=True, do="free" if hand.form.free else "")
    return show(request, frequency_page(request, study, shown))


def _refuse_unfinished(hand: AtHand) -> None:
    if hand.next is not None:
        mend = "Record what is missing first."
        raise InputRefused((Fault(hand.next.file, "not recorded yet", "every take", mend),))


@pages.post("/give-up")
def give_up(request: Request, study: int) -> Response:
    """Remove what was recorded of the contact at hand; the records stay as they are."""
    _hand(request, study)
    recorder_of(request).give_up()
    return go_to(_page(study))


def _page(study: int, holder: str = "") -> str:
    return f"/studies/{study}/frequency?record=yes{f'&holder={holder}' if holder else ''}#record"
