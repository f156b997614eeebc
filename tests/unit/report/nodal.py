"""A dense nodal solution of a netlist's text, which knows nothing of how the text was made."""

import numpy as np


class Circuit:
    """The elements of a text: its first line is the title, ``*`` begins a remark, ``.`` a command."""

    def __init__(self, text: str) -> None:
        lines = text.splitlines()
        assert lines[-1] == ".end"
        assert text.isascii()
        self.title = lines[0]
        self.commands = [line.split() for line in lines[1:] if line.startswith(".")]
        self.cards = [line.lower().split() for line in lines[1:] if line[0] not in "*."]
        names = [card[0] for card in self.cards]
        assert len(set(names)) == len(names)
        found = {node for card in self.cards for node in card[1 : 1 + self.width(card)]}
        assert "0" in found
        self.nodes = sorted(found - {"0"})

    @staticmethod
    def width(card: list[str]) -> int:
        return {"e": 4, "k": 0}.get(card[0][0], 2)

    def sweep(self) -> tuple[int, float, float]:
        (command,) = (command for command in self.commands if command[0] == ".ac")
        assert command[1] == "dec"
        return int(command[2]), float(command[3]), float(command[4])

    def solve(self, frequency: float) -> dict[str, complex]:
        """Voltage of every node at `frequency` in hertz: conductances, and a current for each voltage or coil."""
        s = 2j * np.pi * frequency
        branches = [card for card in self.cards if card[0][0] in "vle"]
        size = len(self.nodes) + len(branches) + 1  # row 0 is node 0, and struck out below
        place = {"0": 0, **{node: 1 + i for i, node in enumerate(self.nodes)}}
        own = {card[0]: 1 + len(self.nodes) + i for i, card in enumerate(branches)}
        y, into = np.zeros((size, size), complex), np.zeros(size, complex)
        for card in self.cards:
            kind, (one, other) = card[0][0], card[1:3]
            if kind == "k":
                row, column = own[one], own[other]
                values = {c[0]: float(c[3]) for c in branches if c[0][0] == "l"}
                mutual = float(card[3]) * np.sqrt(values[one] * values[other])
                y[row, column] -= s * mutual
                y[column, row] -= s * mutual
                continue
            a, b = place[one], place[other]
            if kind in "rc":
                admittance = 1 / float(card[3]) if kind == "r" else s * float(card[3])
                for row, column, sign in ((a, a, 1), (b, b, 1), (a, b, -1), (b, a, -1)):
                    y[row, column] += sign * admittance
            elif kind == "i":
                drive = self.drive(card)
                into[a] -= drive
                into[b] += drive
            else:
                row = own[card[0]]
                y[a, row] += 1
                y[b, row] -= 1
                y[row, a] += 1
                y[row, b] -= 1
                if kind == "v":
                    into[row] = self.drive(card)
                elif kind == "l":
                    y[row, row] -= s * float(card[3])
                else:
                    y[row, place[card[3]]] -= float(card[5])
                    y[row, place[card[4]]] += float(card[5])
        found = np.linalg.solve(y[1:, 1:], into[1:])
        return {"0": 0j, **{node: complex(found[i]) for i, node in enumerate(self.nodes)}}

    @staticmethod
    def drive(card: list[str]) -> complex:
        assert card[3:5] == ["dc", "0"]
        if len(card) == 5:
            return 0j
        assert card[5] == "ac"
        return complex(float(card[6]) * np.exp(1j * np.radians(float(card[7]))))
