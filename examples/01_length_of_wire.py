"""How much wire has the resistance of a contact?"""

import ohmsworth as ow

contact = ow.parse_quantity("5 mΩ", "resistance")  # text becomes ohm at the edge, once
room = ow.parse_quantity("20 °C", "temperature")

for text in ("0.22 mm²", "24 AWG", "1.5 mm²"):
    wire = ow.conductor_from_text(text)
    length = float(ow.equivalent_length(contact, wire, room))
    print(f"{ow.show(contact, 'Ω')} is worth {ow.show(length, 'm')} of {text}")
