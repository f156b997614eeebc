"""Touchstone files (.s1p, .s2p): the open format in which network analysers and simulators exchange ports over frequency."""

from __future__ import annotations

import re
from pathlib import Path

import numpy as np
import numpy.typing as npt

from ohmsworth.adapters.files.decode import decode, read_bytes
from ohmsworth.adapters.files.touchstone_lines import Lines
from ohmsworth.adapters.files.touchstone_points import Points, believed, read_points
from ohmsworth.consequence.scattering import both_references, chain_from_scattering, scattering_from_chain
from ohmsworth.consequence.twoport import OnePort, TwoPort, chain_from_admittance, chain_from_impedance
from ohmsworth.errors import ArgumentFault, Fault, InputRefused, shorten
from ohmsworth.work.ports import LoadedNetwork

_EXTENSION = re.compile(r"\.[syzgh]([0-9]{1,3})p", re.IGNORECASE)
_WHICH = "Save the two ports that matter as one .s2p file."


def read_touchstone(path: Path) -> LoadedNetwork:
    """Read a Touchstone file of one or two ports, version 1.0, 1.1, 2.0 or 2.1.

    S, Y or Z parameters, in any unit and form of numbers. Y and Z of version 1 are taken times and over the reference, as
    they stand there; those of version 2 in siemens and ohm. Noise parameters are left aside, and a note says so. Source:
    "Touchstone".

    Raises
    ------
    InputRefused
        With every fault of the file.
    """
    name = shorten(path.name or str(path), 80)[1:-1]
    mend = "Check the name; network analysers save it under the name of Touchstone, SNP or S parameters."
    data, faults = read_bytes(path, name, "a Touchstone file, .s1p or .s2p", mend)
    text, more = decode(data, name, last_resort="latin-1") if data is not None else (None, [])
    if text is None:
        raise InputRefused((*faults, *more))
    lines = Lines(text, name)
    ports = _ports(lines, path.suffix)
    points = read_points(lines, ports) if ports else None
    network = _network(lines, points) if points is not None else None
    if lines.faults or network is None:
        raise InputRefused(tuple(sorted(lines.faults, key=_line)))
    return LoadedNetwork(network, _references(lines, ports), _notes(lines))


def _line(fault: Fault) -> int:
    line = fault.where.rpartition(", line ")[2]
    return int(line) if line.isdecimal() else 0


def _ports(lines: Lines, suffix: str) -> int:
    """How many ports the file has; 0 where it cannot be read on."""
    extension = _EXTENSION.fullmatch(suffix)
    named = int(extension[1]) if extension else None
    told = lines.head.ports
    if lines.head.keywords:
        if told and named and told != named:
            line = lines.head.seen["number of ports"]
            mend = "Correct the name or the number."
            lines.fault(line, f"{told} ports in a file named .s{named}p", "the same number of ports", mend)
        ports = told
    else:
        ports = named
        if named is None:
            found = f"the ending {shorten(suffix)}" if suffix else "no ending"
            mend = "The ending tells how many ports a version 1 file has: rename it."
            lines.faults.append(Fault(lines.name, found, "a name ending in .s1p or .s2p", mend))
    if ports is not None and ports not in (1, 2):
        expected = "one port or two"
        lines.faults.append(Fault(lines.name, f"a file of {ports} ports", expected, _WHICH))
        return 0
    count = len(lines.head.references)
    if ports and count not in (1, ports):
        line = lines.head.seen.get("reference", lines.head.options or 1)
        mend = "Write one for all ports, or one for each."
        lines.fault(line, f"{count} reference resistances", f"one, or {ports}", mend)
    return ports or 0


def _references(lines: Lines, ports: int) -> tuple[float, ...]:
    given = lines.head.references
    return given * ports if len(given) == 1 else given


def _notes(lines: Lines) -> tuple[str, ...]:
    noise = [f"{lines.noise} lines of noise parameters are left aside"] if lines.noise else []
    return tuple(lines.notes + noise)


def _network(lines: Lines, points: Points) -> OnePort | TwoPort | None:
    """What the points describe; None where that is at fault."""
    references = _references(lines, points.matrix.shape[1])
    matrix, parameter = points.matrix, lines.head.parameter
    if parameter != "s" and not lines.head.keywords:
        if len(set(references)) > 1:
            expected = "one reference for all ports, which Y and Z of version 1 are taken by"
            mend = "Save the file again as S parameters."
            lines.fault(
                lines.head.options or 1, f"{parameter.upper()} with several references", expected, mend
            )
            return None
        matrix = matrix * references[0] if parameter == "z" else matrix / references[0]
    if len(references) == 1:
        return _one_port(lines, points, matrix[:, 0, 0], references[0])
    with np.errstate(all="ignore"):
        chain = {
            "s": lambda: chain_from_scattering(matrix, references),
            "y": lambda: chain_from_admittance(matrix),
            "z": lambda: chain_from_impedance(matrix),
        }[parameter]()
    through = f"{parameter.upper()}21"
    mend = (
        "Leave these frequencies out; what passes nothing from port 1 to port 2 is no two-port in a circuit."
    )
    good = believed(
        lines, points.line, chain, f"next to nothing passing ({through})", f"{through} other than zero", mend
    )
    return TwoPort(points.frequency, chain) if good else None


def _one_port(
    lines: Lines, points: Points, value: npt.NDArray[np.complex128], reference: float
) -> OnePort | None:
    with np.errstate(all="ignore"):
        if lines.head.parameter == "z":
            value = (value - reference) / (value + reference)
        elif lines.head.parameter == "y":
            value = (1 - value * reference) / (1 + value * reference)
    mend = "Correct or leave out this frequency."
    good = believed(
        lines, points.line, value, "a reflection without bounds", "what a one-port can send back", mend
    )
    return OnePort(points.frequency, value, reference) if good else None


def write_touchstone(
    network: OnePort | TwoPort, reference: float | tuple[float, float] = 50.0, remarks: tuple[str, ...] = ()
) -> bytes:
    """A Touchstone file of S parameters, every number with all its digits: version 1, or 2.0 for unlike references.

    Parameters
    ----------
    network
        Written as .s2p; a one-port as .s1p, against its own reference.
    reference
        Ohm, positive, of both ports or of port 1 and port 2.
    remarks
        Lines for the reader, of plain characters; others become question marks.

    Raises
    ------
    ArgumentFault
        For a reference that is none, and for a two-port that no S parameters can tell.
    """
    if isinstance(network, OnePort):
        references: tuple[float, ...] = (network.reference_resistance,)
        values = network.reflection[:, None]
    else:
        references = both_references(reference)
        scattering = scattering_from_chain(network.chain, references)
        if not np.all(np.isfinite(scattering)):
            raise ArgumentFault("network", "S without bounds", "a two-port that S parameters can tell")
        values = np.swapaxes(scattering, 1, 2).reshape(-1, 4)
    table = np.column_stack((network.frequency, values.view(np.float64)))
    told = [line for remark in remarks for line in remark.splitlines() or [""]]
    rows = [" ".join(map(repr, row)) for row in table.tolist()]
    text = "\n".join([*(f"! {_plain(line)}" for line in told), *_head(references, len(rows)), *rows])
    if len(set(references)) > 1:
        text += "\n[End]"
    return f"{text}\n".encode("ascii", "replace")


def _plain(remark: str) -> str:
    return "".join(c if c.isprintable() else "?" for c in remark)


def _head(references: tuple[float, ...], count: int) -> list[str]:
    """The lines above the numbers."""
    if len(references) == 1:
        ports, columns = ["! One port: real and imaginary part of S11."], "S11"
    else:
        ports = ["! Two ports, port 1 towards the source: real and imaginary parts in the order below."]
        columns = "S11  S21  S12  S22"
    remark = [*ports, f"! frequency in Hz  {columns}"]
    if len(set(references)) == 1:
        return [*remark, f"# Hz S RI R {references[0]!r}"]
    return [
        *remark, "[Version] 2.0", f"# Hz S RI R {references[0]!r}", "[Number of Ports] 2", "[Two-Port Data Order] 21_12",
        f"[Number of Frequencies] {count}", f"[Reference] {' '.join(map(repr, references))}", "[Network Data]",
    ]  # fmt: skip
