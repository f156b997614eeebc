"""Commands and options, and the one place that turns an error into words."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import Annotated, Literal

from cyclopts import App, CycloptsError, Parameter

from ohmsworth.cli.capacitance_command import capacitance
from ohmsworth.cli.care_commands import CARE
from ohmsworth.cli.papers_commands import PAPERS
from ohmsworth.cli.records_commands import records
from ohmsworth.cli.workshop_command import workshop
from ohmsworth.errors import Fault, InputRefused, OhmsworthError, OutputFault

OK, REFUSED, NOT_WRITTEN, BROKEN = 0, 2, 3, 70
#: More faults than this are counted, not printed.
MOST_FAULTS = 200

app = App(
    name="ohmsworth",
    help="What a milliohm is worth: readings of contacts in, an answer for a customer out.",
    help_epilogue=(
        "Exit codes: 0 done; 2 the input (or the command) was refused, every fault is listed; "
        "3 a file or the records could not be written; 70 a fault of the program itself."
    ),
    help_format="plaintext",
    version_flags=["--version"],
)
app.command(records)


@app.command
def answer(
    folder: Path,
    *,
    json: Annotated[bool, Parameter(negative=())] = False,
    html: Path | None = None,
    pdf: Path | None = None,
    letter: Path | None = None,
) -> None:
    """Answer the study in FOLDER (study.toml with readings.csv, takes.csv or both).

    Parameters
    ----------
    folder
        The study's folder.
    json
        Print everything as JSON instead of words.
    html
        Write the report as one self-contained web page.
    pdf
        Write the report as a PDF.
    letter
        Write a letter to the customer as a text to edit.
    """
    from ohmsworth.cli import printing

    printing.answer(folder, json, html, pdf, letter)


@app.command
def plan(
    folder: Path,
    *,
    from_: Annotated[tuple[Path, ...], Parameter(name="--from", negative=(), consume_multiple=True)] = (),
    json: Annotated[bool, Parameter(negative=())] = False,
    sheet: Path | None = None,
    html: Path | None = None,
    pdf: Path | None = None,
    seed: int = 1,
) -> None:
    """Find the cheapest plan that is likely to settle the question in FOLDER (study.toml with a table [plan]).

    Parameters
    ----------
    folder
        The study's folder; it need not hold readings yet.
    from_
        Folders of past studies, from which the scatter is taken.
    json
        Print everything as JSON instead of words.
    sheet
        Write the randomised bench sheet as CSV, to be filled in and saved as readings.csv.
    html
        Write the plan and the sheet as one self-contained web page.
    pdf
        Write the plan and the sheet as a PDF.
    seed
        Draws the order of the sheet; the same seed, the same sheet.
    """
    from ohmsworth.cli import plan as planning

    planning.plan(folder, from_, json, sheet, html, pdf, seed)


@app.command
def fitness(
    folder: Path,
    *,
    json: Annotated[bool, Parameter(negative=())] = False,
    html: Path | None = None,
    pdf: Path | None = None,
) -> None:
    """Say whether the bench is fit today, and what it can tell (check.csv, readings.csv by several operators).

    Parameters
    ----------
    folder
        A folder with study.toml and check.csv, readings.csv, or both.
    json
        Print everything as JSON instead of words.
    html
        Write the report as one self-contained web page.
    pdf
        Write the report as a PDF.
    """
    from ohmsworth.cli import fitness as printing

    printing.fitness(folder, json, html, pdf)


@app.command
def lot(
    folder: Path,
    *,
    json: Annotated[bool, Parameter(negative=())] = False,
    html: Path | None = None,
    pdf: Path | None = None,
) -> None:
    """Plan how to sample the lot in FOLDER ([lot] in study.toml), or judge it once readings.csv is there.

    Parameters
    ----------
    folder
        The study's folder.
    json
        Print everything as JSON instead of words.
    html
        Write the report as one self-contained web page.
    pdf
        Write the report as a PDF.
    """
    from ohmsworth.cli import lot as printing

    printing.lot(folder, json, html, pdf)


@app.command
def cable(
    folder: Path,
    *,
    json: Annotated[bool, Parameter(negative=())] = False,
    html: Path | None = None,
    pdf: Path | None = None,
    pictures: Path | None = None,
    sheet: Path | None = None,
) -> None:
    """Say what to measure at the cable in FOLDER (cable.toml), or whether it is right once test.csv is there.

    Parameters
    ----------
    folder
        The cable's folder.
    json
        Print everything as JSON instead of words.
    html
        Write the sheet or the report as one self-contained web page.
    pdf
        Write the sheet or the report as a PDF.
    pictures
        Write every picture of the report, with its numbers, into this folder.
    sheet
        Write what is left to measure as CSV, to be filled in and saved as test.csv; never replaces a file.
    """
    from ohmsworth.cli import cable as printing
    from ohmsworth.cli.reported import Targets

    printing.cable(folder, json, Targets(html, pdf, pictures), sheet)


for command in (*CARE, *PAPERS, capacitance):
    app.command(command)


app.command(workshop, usage="Usage: ohmsworth workshop [OPTIONS] FOLDERS...")


@app.command(usage="Usage: ohmsworth meaning [OPTIONS] [RESISTANCES...]")
def meaning(
    *resistances: Annotated[str, Parameter(allow_leading_hyphen=True)],
    use: Annotated[tuple[str, ...], Parameter(negative=(), show_default=False)] = (),
    set_: Annotated[tuple[str, ...], Parameter(name="--set", negative=(), show_default=False)] = (),
    circuits: Path | None = None,
    spread: Annotated[str | None, Parameter(allow_leading_hyphen=True)] = None,
    json: Annotated[bool, Parameter(negative=())] = False,
    html: Path | None = None,
    pdf: Path | None = None,
    pictures: Path | None = None,
    netlist: Path | None = None,
    touchstone: Path | None = None,
) -> None:
    """Say what contacts of RESISTANCES do in circuits, and how bad they would have to be: 3mohm 50mohm 2ohm.

    Parameters
    ----------
    resistances
        Of each contact, with its unit: 3mohm or "3 mohm"; none asks for the thresholds alone.
    use
        A circuit by its kind, such as "balanced line"; every kind when none is named.
    set_
        A value of the only circuit, such as length="50 m" or cable="star quad 4 x 0.20 mm2".
    circuits
        A file with [[use]] tables as in study.toml, or a study's folder, instead of --use.
    spread
        Relative standard deviation of contacts about each resistance, such as "20 %": curves get bands.
    json
        Print everything as JSON instead of words.
    html
        Write the report as one self-contained web page.
    pdf
        Write the report as a PDF.
    pictures
        A folder into which every picture is written as SVG, PNG and CSV.
    netlist
        Write the only circuit as a netlist for a circuit simulator, the first resistance in every contact.
    touchstone
        Write cable and contacts of the only circuit as a Touchstone file (.s2p), the first resistance in every contact.
    """
    from ohmsworth.cli import meaning as telling

    question = telling.Question(resistances, use, set_, circuits, spread)
    targets = telling.Targets(html, pdf, pictures, netlist, touchstone)
    options = [
        n for a in app["meaning"].assemble_argument_collection() for n in a.names if n.startswith("--")
    ]
    telling.meaning(question, json, targets, options)


@app.command
def tones(folder: Path, *, json: Annotated[bool, Parameter(negative=())] = False) -> None:
    """Write what is played for an impedance over frequency into FOLDER, and the card that says how to wire it.

    Parameters
    ----------
    folder
        A folder with tones.toml; where there is none, a commented one is written to start from.
    json
        Print everything as JSON instead of words.
    """
    from ohmsworth.cli import tones as planning

    planning.tones(folder, json)


@app.command
def takes(
    folder: Path,
    *,
    at: str | None = None,
    json: Annotated[bool, Parameter(negative=())] = False,
    html: Path | None = None,
    pdf: Path | None = None,
    pictures: Path | None = None,
) -> None:
    """Find the impedance of a contact over frequency from the recordings in FOLDER (see tones).

    Parameters
    ----------
    folder
        The folder with tones.toml, plan.json and the recordings, named as on the wiring card.
    at
        Frequency, such as 1kHz, at which the budget of the uncertainty is told; the nearest tone is taken.
    json
        Print everything as JSON instead of words.
    html
        Write the report as one self-contained web page.
    pdf
        Write the report as a PDF.
    pictures
        Write every picture of the report, with its numbers, into this folder.
    """
    from ohmsworth.cli import takes as finding

    finding.takes(folder, at, json, finding.Targets(html, pdf, pictures))


@app.command
def play(
    folder: Path | None = None,
    *,
    list_: Annotated[bool, Parameter(name="--list", negative=())] = False,
    device: str | None = None,
    of: Literal["contact", "short", "load", "open"] = "contact",
    take: str | None = None,
    inputs: Annotated[tuple[int, int], Parameter(negative=())] = (1, 2),
    outputs: Annotated[
        tuple[int, ...], Parameter(negative=(), consume_multiple=True, show_default=False)
    ] = (),
    replace: Annotated[bool, Parameter(negative=())] = False,
    json: Annotated[bool, Parameter(negative=())] = False,
) -> None:
    """Play and record the takes in FOLDER (see tones) with an audio interface; nothing sounds before you press Enter.

    Parameters
    ----------
    folder
        The folder with plan.json; the recordings go there.
    list_
        List the interfaces that play and record, and play nothing.
    device
        The interface: its name, a part of it, or its number in the list.
    of
        What lies in the contact's place: the contact itself, a short, the load that tones.toml states, or nothing.
    take
        Record this take alone, such as straight or swapped; else all that are missing, one after the other.
    inputs
        Numbers of the interface's inputs that the card calls 1 and 2.
    outputs
        Numbers of the outputs that play; as tones.toml says where left out.
    replace
        With --take: let the new recording take the place of one that is there, once it is whole.
    json
        With --list: print everything as JSON instead of words.
    """
    from ohmsworth.cli import play as playing

    if list_:
        playing.devices(json)
    else:
        playing.refuse_alone(json, replace, take)
        playing.play(folder, playing.Options(device, take, of, inputs, outputs, replace))


@app.command
def new(folder: Path) -> None:
    """Write a commented study to start from into FOLDER.

    Parameters
    ----------
    folder
        A folder that does not hold a study yet.
    """
    from ohmsworth.cli import printing

    printing.new(folder)


@app.command
def demo(folder: Path = Path("demo")) -> None:
    """Run every job on an invented scenario, made by a seeded simulator.

    Parameters
    ----------
    folder
        Where to write the folders of every job with their reports, a certificate, and the records of a year of work.
    """
    from ohmsworth.cli import demo as showing

    showing.demo(folder)


@app.command
def schema(
    of: Literal[
        "ageing",
        "answer",
        "cable",
        "capacitance",
        "care",
        "certify",
        "certify-lot",
        "fitness",
        "known",
        "lot",
        "meaning",
        "plan",
        "service-card",
        "service-card-cable",
        "takes",
        "tones",
        "verify",
        "workshop",
    ] = "answer",
) -> None:
    """Print the JSON schema of what a command prints with --json.

    Parameters
    ----------
    of
        The command.
    """
    from ohmsworth.cli import printing

    printing.schema(of)


app.command(
    "ohmsworth.cli.people:people",
    name="people",
    help="Say who may sign in to the bench, and what each may do there.",
)


def run(arguments: list[str]) -> int:
    """Run one command and return its exit code; nothing but words reaches the user."""
    wants_json = any(argument.partition("=")[0] == "--json" for argument in arguments)
    try:
        code = app(arguments, exit_on_error=False, print_error=False, result_action="return_value")
        if sys.stdout is not None:
            sys.stdout.flush()
    except CycloptsError as error:
        return _say(f"{error}\nTry 'ohmsworth --help'.", REFUSED)
    except InputRefused as error:
        return _refuse(error.faults, wants_json)
    except OutputFault as error:
        return _say(str(error), NOT_WRITTEN)
    except OhmsworthError as error:
        if isinstance(
            error, OSError
        ):  # the records cannot be read or written, and the message says what to do
            return _say(str(error), NOT_WRITTEN)
        if (told := _of_records(error)) is not None:
            return _say(str(error), told)
        return _refuse((_as_fault(error),), wants_json)
    except BrokenPipeError:
        _drop_output()  # the reader of a pipe has left (head, say); nothing is wrong
        return OK
    except OSError as error:
        _drop_output()
        return _say(f"The output cannot be written: {error.strerror or error}.", NOT_WRITTEN)
    except KeyboardInterrupt:
        return _say("Stopped.", 130)
    except Exception as error:
        return _broken(error)
    return code if isinstance(code, int) else OK


def _of_records(error: OhmsworthError) -> int | None:
    """The exit code for what the records say of themselves; None for anything else."""
    from ohmsworth.work.records import NoSuchCard, RecordsFault, RevisionRefused

    if isinstance(error, RecordsFault):
        return NOT_WRITTEN
    return REFUSED if isinstance(error, NoSuchCard | RevisionRefused) else None


def _drop_output() -> None:
    """Send what is still waiting to be printed nowhere, so that nothing fails once more at the end."""
    if sys.stdout is not None:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _as_fault(error: OhmsworthError) -> Fault:
    """A refusal from a stage that does not know the files."""
    return Fault(
        "the study",
        str(error),
        "values that the computation holds for",
        "Check units and sizes in both files.",
    )


def _refuse(faults: tuple[Fault, ...], wants_json: bool) -> int:
    from ohmsworth.cli import printing
    from ohmsworth.cli.refusals import grouped

    if wants_json:
        printing.refusal(faults)
    told = grouped(faults)
    shown = told[:MOST_FAULTS]
    lines = [f"Refused: {len(faults)} fault{'s' if len(faults) != 1 else ''}. Nothing was written."]
    for fault in shown:
        lines.append(f"- {fault.where}: found {fault.found}; expected {fault.expected}.")
        lines.append(f"  {fault.mend}")
    if len(told) > len(shown):
        lines.append(f"... and {len(told) - len(shown)} more.")
    return _say("\n".join(lines), REFUSED)


def _broken(error: Exception) -> int:
    if os.environ.get("OHMSWORTH_TRACE"):
        raise error
    return _say(
        f"The program itself failed ({type(error).__name__}: {str(error)[:200]}). Your files are as they were. "
        "Please report it with the study; OHMSWORTH_TRACE=1 shows where.",
        BROKEN,
    )


def _say(text: str, code: int) -> int:
    if sys.stderr is not None:
        encoding = sys.stderr.encoding or "utf-8"
        readable = "".join(c if c.isprintable() or c == "\n" else "\ufffd" for c in text)
        sys.stderr.write(readable.encode(encoding, "replace").decode(encoding) + "\n")
    return code
