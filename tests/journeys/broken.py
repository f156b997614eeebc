"""Study folders that must be refused, each with what the refusal has to say."""

from __future__ import annotations

from dataclasses import dataclass, field

QUESTION = 'question = "Do they matter?"\nreference = "new"\n'
STUDY = QUESTION + '[limit]\nresistance = "3 mΩ"\nsource = "datasheet"\n'
ALONE = STUDY.replace('reference = "new"\n', "")
HEADER = "specimen,condition,polarity,voltage [mV],current [mA]\n"
ROWS = (
    "N1,new,+,0.251,100.1\nN1,new,-,-0.249,-100.1\n"  # lines 2 and 3
    "N2,new,+,0.262,100.1\nN2,new,-,-0.259,-100.1\n"
    "T1,old,+,0.451,100.1\nT1,old,-,-0.449,-100.1\n"  # lines 6 and 7
    "T2,old,+,0.502,100.1\nT2,old,-,-0.499,-100.1\n"
)
READINGS = HEADER + ROWS
Content = str | bytes | None  #: None leaves the file out.


@dataclass(frozen=True)
class Case:
    """A folder, and for each fault expected the texts that its message must hold."""

    name: str
    faults: tuple[tuple[str, ...], ...]
    study: Content = STUDY
    readings: Content = READINGS
    folders: tuple[str, ...] = field(default=())


def toml(name: str, study: Content, *faults: tuple[str, ...]) -> Case:
    """A fault of study.toml; every message must name the file."""
    return Case(name, tuple(("study.toml", *fault) for fault in faults), study=study)


def sheet(name: str, readings: Content, *faults: tuple[str, ...]) -> Case:
    """A fault of readings.csv."""
    head = readings.split("\n", 1)[0] if isinstance(readings, str) else HEADER
    study = ALONE if "specimen" in head and "condition" not in head else STUDY
    return Case(name, tuple(("readings.csv", *fault) for fault in faults), study, readings)


def top(key: str) -> str:
    """The study with a line more above its tables."""
    return key + "\n" + STUDY


def use(lines: str) -> str:
    """The study with a use."""
    return STUDY + '[[use]]\nkind = "dynamic microphone"\n' + lines + "\n"


def meter(lines: str) -> str:
    """The study with a voltmeter."""
    return STUDY + "[bench.voltmeter]\n" + lines + "\n"


def limit(line: str) -> str:
    """The study with another limit."""
    return QUESTION + "[limit]\n" + line + "\n"


def row(line: str, heading: str = HEADER) -> str:
    """The readings with their second line replaced."""
    return heading + line + "\n" + ROWS.split("\n", 1)[1]


def swap(old: str, new: str) -> str:
    """The readings with one text replaced."""
    assert old in READINGS
    return READINGS.replace(old, new)


FILES = [
    Case("no files at all", (("study.toml", "no such file"), ("readings.csv", "no such file")), None, None),
    toml("no study", None, ("no such file", "ohmsworth new")),
    sheet("no readings", None, ("no such file", "ohmsworth new")),
    Case("study a folder", (("study.toml", "a folder"),), None, folders=("study.toml",)),
    Case("readings a folder", (("readings.csv", "a folder"),), readings=None, folders=("readings.csv",)),
    sheet("bytes of no encoding", READINGS.encode().replace(b"N1,new,-", b"N\x81,new,-"), ("line 3", "UTF-8")),
    sheet("UTF-16 without mark", READINGS.encode("utf-16-le"), ("line 1", "NUL byte", "UTF-8")),
    sheet("UTF-16 cut short", READINGS.encode("utf-16")[:-1], ("bytes that are no text", "UTF-8")),
    sheet("UTF-32", READINGS.encode("utf-32"), ("line 1", "NUL byte")),
    sheet("NUL bytes", swap("N2,new,+", "N2\0,new,+"), ("line 4", "NUL byte")),
    toml("NUL in study", STUDY + "\0", ("line 6", "NUL byte")),
    sheet("empty", "", ("empty file", "header")),
    sheet("blank lines only", "\n\n  \n,,\n", ("empty file", "header")),
    sheet("header only", HEADER, ("no readings", "at least one reading")),
    sheet("10 MB field", row('"' + "x" * 10_000_000 + '",new,+,0.2,100'), ("line 2", "131072", "quotation")),
    sheet("unclosed quote", swap("T1,old,+", '"T1,old,+'), ("line 6", "quotation marks")),
    sheet("text after a quote", swap("T1,old,+", '"T1"x,old,+'), ("line 6", "quotation marks")),
    Case("both files", (("study.toml", "'scael'", "'scale'"), ("readings.csv", "line 3", "'abc'")),
         top('scael = "log"'), swap("-0.249", "abc")),
]  # fmt: skip

HEADINGS = [
    sheet("no unit", READINGS.replace(" [mV]", ""), ("line 1, column 4", "no unit", "voltage [mV]")),
    sheet("unknown unit", READINGS.replace("mV", "milliv"), ("line 1, column 4", "'milliv'", "mV")),
    sheet("unit of another dimension", READINGS.replace("[mA]", "[mV]"),
          ("line 1, column 5", "'mV'", "a unit of current")),
    sheet("lost ohm sign", "specimen,resistance [m?]\nA,2\nA,2.1\n", ("column 2", "'m?'", "mΩ")),
    sheet("unknown column", READINGS.replace("voltage [mV]", "votlage [mV]"),
          ("line 1, column 4", "votlage", "'voltage [mV]'")),
    sheet("misspelt specimen", READINGS.replace("specimen", "speciman"), ("column 1", "'specimen'", "note")),
    sheet("column twice", READINGS.replace("polarity", "condition"), ("column 3", "second column 'condition'")),
    sheet("resistance and voltage", "specimen,resistance [mΩ],voltage [mV],current [mA]\nA,2,0.2,100\n",
          ("line 1", "both 'resistance' and 'voltage'", "note")),
    sheet("voltage alone", "specimen,voltage [mV]\nA,2\nA,2.1\n", ("line 1", "only 'voltage'", "current [unit]")),
    sheet("no readings columns", "specimen,condition\nA,new\nB,new\n", ("no column of readings", "resistance")),
    sheet("no specimen", "condition,resistance [mΩ]\nnew,2\nnew,2.1\n", ("no column 'specimen'", "plug")),
    sheet("separated by bars", READINGS.replace(",", "|"), ("line 1", "one cell only", "semicolon")),
    sheet("no header", ROWS, ("line 1", "no known heading among 'N1', 'new'", "'voltage [mV]'")),
    sheet("headings in another language", READINGS.replace("specimen", "Probe").replace("condition", "Zustand")
          .replace("polarity", "Richtung").replace("voltage", "Spannung").replace("current", "Strom"),
          ("'Probe', 'Zustand'", "specimen, condition", "first line")),
    sheet("specimen and condition exchanged", READINGS.replace("specimen,condition", "condition,specimen"),
          ("'reference'", "'new', which stands in the column 'specimen'", "exchanged")),
    sheet("heading and cells", READINGS.replace("[mV]", "[kg]").replace("-0.499", "x"),
          ("line 1, column 4", "'kg'"), ("line 9, column 'voltage'", "'x'")),
]  # fmt: skip

CELLS = [
    sheet("text in a number", swap("0.262", "0.262 mV"), ("line 4, column 'voltage'", "'0.262 mV'", "plain number")),
    sheet("several numbers", swap("0.262", "nil").replace("-0.449", "?"), ("line 4", "'nil'"), ("line 7", "'?'")),
    sheet("thousands marks", swap("0.262", '"1,234.5"'), ("line 4", "'1,234.5'", "no thousands marks")),
    sheet("space in a number", swap("0.262", "1 234"), ("line 4", "'1 234'")),
    sheet("ambiguous", "specimen,resistance [mΩ]\n" + 'A,"1,234"\nA,"1,240"\n',
          ("line 2", "'1,234'", "1.234 for one and a bit"), ("line 3", "'1,240'")),
    sheet("comma among points", swap("0.262", '"0,262"'), ("line 4", "'0,262'", "one decimal mark")),
    sheet("semicolons, mixed marks", "specimen;resistance [mΩ]\nA;2,5\nA;2,6\nA;2.7\n", ("line 4", "'2.7'", "comma")),
    sheet("decimal commas unquoted", "specimen,resistance [mΩ]\nA,2,51\nA,2,62\n",
          ("line 2", "3 cells", "2 as in the header", "separators"), ("line 3", "3 cells")),
    sheet("infinity", swap("0.262", "inf"), ("line 4", "'inf'", "plain number")),
    sheet("not a number", swap("0.262", "NaN"), ("line 4", "'NaN'", "plain number")),
    sheet("1e999", swap("0.262", "1e999"), ("line 4", "'1e999'", "exponent")),
    sheet("5e-324", swap("0.262", "5e-324"), ("line 4", "'5e-324'", "exponent")),
    sheet("long number", swap("0.262", "9" * 5000), ("line 4", "plain number")),
    sheet("spreadsheet error", swap("0.262", "#DIV/0!"), ("line 4", "'#DIV/0!'")),
    sheet("empty reading", swap("0.262", ""), ("line 4, column 'voltage'", "an empty cell", "delete the row")),
    sheet("empty current", row("N1,new,+,0.251,"), ("line 2, column 'current'", "an empty cell")),
    sheet("too few cells", row("N1,new"), ("line 2, column 'voltage'", "empty"), ("line 2, column 'current'", "empty")),
    sheet("one cell", row("N1"), ("line 2", "1 cell;", "5 as in the header")),
    sheet("too many cells", row("N1,new,+,0.251,100,7"), ("line 2", "6 cells", "5 as in the header")),
    sheet("polarity in words", swap("N2,new,+", "N2,new,up"), ("line 4, column 'polarity'", "'up'", "reversed")),
    sheet("empty condition", swap("T1,old,+", "T1,,+"), ("line 6, column 'condition'", "empty cell", "Fill it in")),
    sheet("no conditions", READINGS.replace(",new", ",").replace(",old", ","), ("column 'condition'", "only empty")),
    sheet("empty specimen", swap("T1,old,+", " ,old,+"), ("line 6, column 'specimen'", "empty cell")),
    sheet("endless name", swap("T1,old,+", "T" * 500 + ",old,+"), ("line 6, column 'specimen'", "500 characters")),
    sheet("bell in a name", swap("T1,old,+", "T\x07,old,+"), ("line 6", "cannot be shown")),
    sheet("capital letters", swap("T1,old,+", "T1,Old,+"), ("line 7, column 'condition'", "'old'", "'Old'")),
    sheet("small specimen", swap("T1,old,+", "t1,old,+"), ("line 7, column 'specimen'", "'T1'", "'t1'", "in one way")),
    sheet("blank in a specimen", swap("T1,old,+", "T 1,old,+"), ("line 7, column 'specimen'", "'T1'", "'T 1'")),
    sheet("dates for times", "specimen,time,resistance [mΩ]\nA,2026-03-01,2\nA,2026-03-02,2.1\n",
          ("line 2, column 'time'", "'2026-03-01'", "'date'"), ("line 3", "'2026-03-02'")),
    sheet("no such time", "specimen,time,resistance [mΩ]\nA,25:10,2\nA,10:61,2\nA,13:00 PM,2.2\n",
          ("line 2", "'25:10'", "10:15"), ("line 3", "'10:61'"), ("line 4", "'13:00 PM'")),
    sheet("times of two kinds", "specimen,time,resistance [mΩ]\nA,10:15,2\nA,35,2.1\n",
          ("line 3, column 'time'", "plain seconds", "a time of day", "one way")),
]  # fmt: skip

SIGNS = [
    sheet("zero current", row("N1,new,+,0.251,0"), ("line 2, column 'current'", "zero", "polarity")),
    sheet("negative forward", row("N1,new,+,-0.251,-100.1"), ("line 2, column 'current'", "negative", "polarity")),
    sheet("opposite signs", row("N1,new,+,-0.251,100.1"), ("line 2", "opposite sign", "lead")),
    sheet("current although off", swap("N2,new,+", "N2,new,off"), ("line 4, column 'current'", "polarity zero")),
    sheet("current always off", swap("T1,old,+,0.451,100.1", "T1,old,0,0,0").replace("T1,old,-,-0.449,-100.1", "")
          .replace("T2,old,+,0.502,100.1", "T2,old,0,0,").replace("T2,old,-,-0.499,-100.1", ""),
          ("column 'polarity'", "every reading of 'old'", "current on")),
    sheet("resistance with current off", "specimen,polarity,resistance [mΩ]\nA,+,2\nA,zero,0.1\n",
          ("line 3, column 'polarity'", "resistance", "Delete")),
    sheet("negative resistance", "specimen,resistance [mΩ]\nA,2\nA,-2.1\n", ("line 3", "negative", "linear")),
    sheet("negative from voltage", row("N1,new,+,-0.02,100.1").replace("-0.249,-100.1", "0.02,-100.1"),
          ("line 2, 3", "mΩ", "polarity")),
    sheet("the same time twice", "specimen,time,resistance [mΩ]\nA,10:15,2\nA,10:16,2.1\nA,10:15,2\n",
          ("line 4", "line 2", "Delete the copy")),
    sheet("a block twice", READINGS + ROWS, ("lines 10 to 17", "lines 2 to 9", "Delete the copy")),
    sheet("one specimen", swap("T2,old", "T1,old").replace("N2,new", "N1,new"),
          ("column 'specimen'", "one specimen only under 'new', 'old'", "another specimen")),
]  # fmt: skip

KEYS = [
    toml("reference unknown", STUDY.replace('"new"', '"nwe"'), ("'reference'", "'nwe'", "Did you mean 'new'")),
    toml("no reference", STUDY.replace('reference = "new"\n', ""), ("'reference'", "2 conditions", "reference =")),
    toml("reference a number", STUDY.replace('"new"', "1"), ("'reference'", "1", "quotation marks")),
    toml("bad syntax", STUDY.replace('"3 mΩ"', "3 mΩ"), ("line 4, column", "not TOML", "quotation marks")),
    toml("key twice", top('reference = "old"'), ("line 3", "not TOML", "once")),
    toml("open quote", STUDY + 'x = "', ("last line", "not TOML")),
    toml("bytes for text", b"\xff\x00\x01" + STUDY.encode(), ("line 1", "NUL")),
    toml("decimal comma without quotation marks", meter("percent_of_reading = 0,05"),
         ("line", "0,05 outside quotation marks", "Write 0.05", "takes a point")),
    toml("number in quotation marks", meter('percent_of_reading = "0,05"'),
         ("'0,05'", "percent_of_reading = 0.05 without quotation marks")),
    toml("whole number in quotation marks", use('contacts_near = "2"'), ("'2'", "contacts_near = 2")),
    toml("key of the bench at the top", top('open_circuit_voltage = "20 mV"'),
         ("unknown key", "This key belongs under [bench].")),
    toml("key of the bench in the limit", limit('resistance = "3 mΩ"\nopen_circuit_voltage = "20 mV"'),
         ("[limit]", "one of resistance, source", "under [bench]")),
    toml("key of the top in a table", STUDY + "keep = [4]\n", ("'keep'", "above the first [table]")),
    toml("row kept and set aside", top("keep = [4]") + '[[set_aside]]\nrow = 4\nreason = "x"\n',
         ("'row'", "row 4, which 'keep' keeps", "not both")),
    toml("unknown key", top("marginn = 3"), ("'marginn'", "unknown key", "Did you mean 'margin'")),
    toml("unlike any key", top("zzz = 3"), ("'zzz'", "unknown key", "Remove it")),
    toml("unknown table", STUDY + "[bnech]\n", ("'bnech'", "Did you mean 'bench'")),
    toml("unknown key of the limit", limit('resistance = "3 mΩ"\nsorce = "x"'), ("[limit]", "'sorce'", "'source'")),
    toml("unknown meter", STUDY + "[bench.voltmetre]\n", ("[bench]", "'voltmetre'", "'voltmeter'")),
    toml("escape in a key", top('"a\\u001b[31mb" = 1'), ("unknown key", "a�[31mb")),
    toml("limit a number", limit("resistance = 0.003"), ("'resistance'", "0.003 without a unit", "3 mΩ")),
    toml("limit without unit", limit('resistance = "3"'), ("'resistance'", "no unit", "3 mΩ")),
    toml("limit in another unit", limit('resistance = "3 mV"'), ("'mV'", "unit of resistance")),
    toml("limit negative", limit('resistance = "-3 mΩ"'), ("'-3 mΩ'", "more than zero")),
    toml("limit zero", limit('resistance = "0 Ω"'), ("'0 Ω'", "more than zero")),
    toml("limit huge", limit('resistance = "4e6 MΩ"'), ("'4e6 MΩ'", "1 nΩ to 1 GΩ", "unit")),
    toml("limit tiny", limit('resistance = "3e-9 mΩ"'), ("'3e-9 mΩ'", "1 nΩ to 1 GΩ")),
    toml("limit in words", limit('resistance = "low"'), ("'low'", "a resistance such as 3 mΩ")),
    toml("limit true", limit("resistance = true"), ("true without a unit", "quotation marks")),
    toml("limit missing", limit('source = "x"'), ("'resistance'", "no such key", "Add it")),
    toml("limit no table", top('limit = "3 mΩ"').replace("[limit]", "[bench]").replace("resistance", "emf_allowance")
         .replace('source = "datasheet"', "").replace("mΩ", "µV", 2).replace("3 µV", "3 mΩ", 1),
         ("'limit'", "'3 mΩ'", "[limit]")),
    toml("limit ambiguous", limit('resistance = "1,234 mΩ"'), ("'1,234'", "one and a bit")),
    toml("margin negative", top('margin = "-1 mΩ"'), ("'margin'", "more than zero")),
    toml("coverage 95", top("coverage = 95"), ("'coverage'", "95", "0.95 for 95 %")),
    toml("coverage in words", top('coverage = "95 %"'), ("'coverage'", "'95 %'", "0.95")),
    toml("coverage true", top("coverage = true"), ("'coverage'", "true", "0.95")),
    toml("coverage nan", top("coverage = nan"), ("'coverage'", "nan", "0.6 to 0.9999")),
    toml("unknown scale", top('scale = "logarithmic"'), ("'scale'", "'logarithmic'", '"log" or "linear"')),
    toml("scatter a list", top('scatter = ["auto"]'), ("'scatter'", "a list", '"auto"')),
    toml("unknown plating", top('plating = "glod"'), ("'plating'", "'glod'", "Did you mean 'gold'")),
    toml("unknown conductor", top('wires = ["24 AWG", "thick"]'), ("'wires'", "'thick'", "cross-section")),
    toml("conductor too thin", top('wires = ["90 AWG"]'), ("'wires'", "'90 AWG'", "gauge")),
    toml("conductor a number", top("wires = [24]"), ("'wires'", "24", "conductors")),
    toml("too cold", top('temperature = "-100 °C"'), ("'temperature'", "-100 °C", "−40 to 85 °C")),
    toml("below absolute zero", top('temperature = "-300 °C"'), ("'temperature'", "-300 °C", "absolute zero")),
    toml("question a number", STUDY.replace('"Do they matter?"', "7"), ("'question'", "7", "quotation marks")),
    toml("question empty", STUDY.replace('"Do they matter?"', '" "'), ("'question'", "an empty text")),
    toml("question endless", STUDY.replace("Do they", "x" * 10_000), ("'question'", "characters", "Shorten")),
    toml("deep nesting", top("wires = " + "[" * 50_000 + "]" * 50_000), ("brackets inside brackets", "short file")),
    toml("huge integer", top("coverage = " + "9" * 5000), ("thousands of digits",)),
    toml("huge hexadecimal", top("coverage = 0x" + "F" * 5000), ("'coverage'", "many digits", "0.95")),
    toml("keep a hexadecimal", top("keep = [0x" + "F" * 5000 + "]"), ("'keep'", "no line")),
    toml("keep texts", top('keep = ["14"]'), ("'keep'", "'14'", "line numbers")),
    toml("keep no row", top("keep = [99]"), ("'keep'", "row 99", "holds a reading")),
]  # fmt: skip

TABLES = [
    toml("use without kind", STUDY + '[[use]]\nname = "x"\n', ("[[use]] number 1", "no such key", '"balanced line"')),
    toml("use of unknown kind", STUDY + '[[use]]\nkind = "dynamic mircophone"\n',
         ("number 1", "'kind'", 'Did you mean "dynamic microphone"')),
    toml("use a table", STUDY + '[use]\nkind = "dynamic microphone"\n', ("'use'", "a table", "[[use]]")),
    toml("unknown setting", use('lenght = "20 m"'), ("'lenght'", "Did you mean 'length'")),
    toml("setting without unit", use("length = 20"), ("'length'", "20 without a unit", "10 m")),
    toml("setting of another unit", use('length = "20 s"'), ("'length'", "'s'", "unit of length")),
    toml("setting negative", use('length = "-20 m"'), ("'length'", "'-20 m'", "0 m to 10 km")),
    toml("setting out of range", use('mains_frequency = "5 kHz"'), ("'5 kHz'", "16 Hz to 400 Hz")),
    toml("temperature out of range", use('temperature = "500 °C"'), ("'500 °C'", "−50 °C to 150 °C")),
    toml("half a contact", use("contacts_near = 1.5"), ("'contacts_near'", "1.5", "whole number from 0 to 100")),
    toml("contacts in words", use('contacts_near = "two"'), ("'contacts_near'", "'two'", "whole number")),
    toml("no contact at all", use("contacts_near = 0\ncontacts_far = 0"), ("'contacts_far'", "at least one contact")),
    toml("input bridged", use('load_common = "500 Ω"'), ("'load_impedance'", "default", "at most twice")),
    toml("conductor of a use", use('conductor = "rope"'), ("'conductor'", "'rope'", "conductor")),
    toml("two faults of a use", use('length = "x"\nbandwidth = 3'), ("'length'", "'x'"), ("'bandwidth'", "3")),
    toml("counts without resolution", meter("counts = 3"), ("[bench.voltmeter]", "'counts'", "Add resolution")),
    toml("meter says nothing", meter('note = "mine"'), ("[bench.voltmeter]", "nothing stated", "specification")),
    toml("resolution of another unit", meter('counts = 3\nresolution = "1 mA"'), ("'resolution'", "'mA'", "voltage")),
    toml("percent of 500", meter("percent_of_reading = 500"), ("500", "0 to 100", "0.5 %")),
    toml("accuracy in words", meter('accuracy = "good"'), ("'accuracy'", "'good'", "0.5 % + 3 counts")),
    toml("accuracy absurd", meter('accuracy = "900 % + 3 counts"'), ("'accuracy'", "900 %")),
    toml("counts true", meter('counts = true\nresolution = "1 µV"'), ("'counts'", "true", "a number")),
    toml("set aside no such row", STUDY + '[[set_aside]]\nrow = 40\nreason = "x"\n', ("'set_aside'", "row 40")),
    toml("set aside without reason", STUDY + "[[set_aside]]\nrow = 4\n", ("number 1", "'reason'", "State both")),
    toml("set aside half a row", STUDY + '[[set_aside]]\nrow = 4.5\nreason = "x"\n', ("'row'", "4.5", "whole number")),
    toml("set aside twice", STUDY + '[[set_aside]]\nrow = 4\nreason = "x"\n' * 2, ("number 2", "second time")),
    toml("set aside a condition", STUDY + "".join(f'[[set_aside]]\nrow = {r}\nreason = "x"\n' for r in range(6, 10)),
         ("'set_aside'", "every reading of 'old'", "Keep some")),
]  # fmt: skip

CASES = [*FILES, *HEADINGS, *CELLS, *SIGNS, *KEYS, *TABLES]
