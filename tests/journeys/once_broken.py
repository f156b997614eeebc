"""Studies that once broke the program, each for a reason of its own; found by throwing random ones at it."""

from __future__ import annotations

#: Name to study.toml and readings.csv.
ONCE_BROKEN: dict[str, tuple[str, str]] = {
    "an adjustment that fails": (
        """reference = "old"
scale = "linear"
scatter = "auto"
coverage = 0.6
margin = "1 mΩ"
plating = "tin"
temperature = "85 °C"
[limit]
resistance = "3 mΩ"
[bench.voltmeter]
accuracy = "0,5 % + 3 counts"
resolution = "1 V"
[bench.ammeter]
percent_of_reading = 0.5
counts = 3
resolution = "1 µA"
[bench.ohmmeter]
percent_of_reading = 0.5
counts = 3
resolution = "1 µΩ"
[[use]]
kind = "phantom microphone"
""",
        """specimen,condition,operator,plug,polarity,voltage [V],current [A]
S1,new,row 1,P1,+,1e-07,1e-09
S1,old,row 3,P1,+,1e-07,1e-09
S1,cleaned,row 5,P1,+,0.00241194,1e-09
S0,salt mist,row 6,P0,+,13.2834,1e-09
S1,salt mist,row 7,P1,+,1.35073e-07,1e-09
""",
    ),
    "freedom without end": (
        """reference = "new"
scale = "linear"
scatter = "by condition"
coverage = 0.6
margin = "1e9 Ω"
plating = "gold"
[bench.ammeter]
accuracy = "0,5 % + 3 counts"
resolution = "1 A"
[[use]]
kind = "phantom microphone"
[[use]]
kind = "dynamic microphone"
""",
        """specimen,condition,operator,contact,plug,polarity,time,resistance [mΩ]
S0.0,new,row 0,0,P0,+,0:00,1260.55
S0.1,new,row 1,0,P1,+,0:01,1309.55
S0.2,new,row 2,0,P2,+,0:02,979.819
S1.0,old,row 4,0,P0,+,0:04,134532
S1.1,old,row 5,0,P1,+,0:05,78935.9
""",
    ),
    "bounds beyond number": (
        """reference = "new"
scale = "log"
scatter = "equal"
coverage = 0.9999
margin = "1 nΩ"
plating = "tin"
temperature = "85 °C"
[bench.ammeter]
standard_uncertainty = "1 nA"
[bench.ohmmeter]
standard_uncertainty = "1 nΩ"
[[use]]
kind = "dynamic microphone"
[[use]]
kind = "balanced line"
name = "far"
length = "10 km"
conductor = "40 AWG"
""",
        """specimen,condition,operator,contact,plug,polarity,resistance [mΩ]
S0.1,new,row 3,1,P1,+,1.31339e+12
S1.0,old,row 4,0,P0,+,1.07057e+12
S1.1,old,row 7,1,P1,+,8.27074e+11
S2.1,cleaned,row 10,0,P1,+,1.40492e+12
""",
    ),
    "parts re-paired, scatter far apart": (
        """reference = "new"
scale = "log"
scatter = "by condition"
coverage = 0.95
plating = "tin"
temperature = "-40 °C"
[limit]
resistance = "1e9 Ω"
[bench.voltmeter]
percent_of_reading = 100
[bench.ohmmeter]
standard_uncertainty = "1 nΩ"
""",
        """specimen,condition,operator,plug,socket,polarity,voltage [V],current [A]
S0.0,new,row 0,P0,K0,+,1.5021e-07,1e-09
S0.0,new,row 0,P0,K0,-,5.01008e-08,-1e-09
S0.0,new,row 0,P0,K0,+,1.50396e-07,1e-09
S0.1,new,row 3,P1,K1,+,1.00198e-07,1e-09
S0.1,new,row 3,P1,K1,-,9.98003e-08,-1e-09
S0.1,new,row 3,P1,K1,+,1.00198e-07,1e-09
S1.0,old,row 6,P0,K0,+,1.05457e-07,1e-09
S1.0,old,row 6,P0,K0,-,9.46149e-08,-1e-09
S1.0,old,row 6,P0,K0,+,1.05449e-07,1e-09
S1.1,old,row 9,P1,K1,+,6.63276e-06,1e-09
S1.1,old,row 9,P1,K1,-,-6.61172e-06,-1e-09
S1.1,old,row 9,P1,K1,+,6.86422e-06,1e-09
""",
    ),
    "residual scatter vanishing": (
        """reference = "new"
scale = "linear"
scatter = "auto"
coverage = 0.9999
margin = "1 mΩ"
[limit]
resistance = "1e9 Ω"
[bench.voltmeter]
accuracy = "0,5 % + 3 counts"
resolution = "1 V"
[bench.ammeter]
standard_uncertainty = "1 nA"
[bench.ohmmeter]
accuracy = "0,5 % + 3 counts"
resolution = "1 Ω"
""",
        """specimen,condition,operator,mating,plug,voltage [V],current [A]
S0,new,row 0,0,P0,1e-07,1e-09
S3,old,row 24,0,P3,1e-07,1e-09
S3,old,row 25,1,P3,1e-07,1e-09
S4,old,row 27,0,P4,1e-07,1e-09
S4,old,row 28,1,P4,1e-07,1e-09
S0,cleaned,row 30,0,P0,1.0001e-07,1e-09
S2,cleaned,row 36,0,P2,1.00014e-07,1e-09
S2,cleaned,row 38,2,P2,1.00014e-07,1e-09
S4,cleaned,row 43,1,P4,1.00006e-07,1e-09
""",
    ),
    "a ratio beyond number": (
        """reference = "new"
scale = "linear"
scatter = "by condition"
coverage = 0.9999
margin = "1 nΩ"
[bench.voltmeter]
percent_of_reading = 100
[bench.ammeter]
accuracy = "0,5 % + 3 counts"
resolution = "1 A"
[bench.ohmmeter]
percent_of_reading = 0.5
counts = 3
resolution = "1 µΩ"
""",
        """specimen,condition,operator,mating,contact,polarity,time,voltage [V],current [A]
S1,new,row 2,0,0,-,0:03,-0.00168908,-0.001
S2,old,row 12,0,0,+,0:12,0.00181177,0.001
S2,old,row 12,0,0,-,0:13,-0.00184474,-0.001
S0,cleaned,row 16,0,0,+,0:16,0.00186501,0.001
S1,cleaned,row 18,0,0,+,0:18,0.00231497,0.001
""",
    ),
    "one reading ten decades above": (
        """reference = "new"
scale = "linear"
scatter = "equal"
coverage = 0.95
margin = "1e9 Ω"
temperature = "85 °C"
[limit]
resistance = "1e9 Ω"
[bench.voltmeter]
percent_of_reading = 0.5
counts = 3
resolution = "1 µV"
[bench.ammeter]
percent_of_reading = 0.5
counts = 3
resolution = "1 µA"
[bench.ohmmeter]
accuracy = "0,5 % + 3 counts"
resolution = "1 Ω"
[[use]]
kind = "dynamic microphone"
""",
        """specimen,condition,operator,mating,contact,plug,polarity,voltage [V],current [A]
S2,new,row 7,1,0,P2,+,1.00015e-07,0.001
S2,new,row 8,2,0,P2,+,1e-07,0.001
S0,old,row 12,0,0,P0,+,1.2339e+07,0.001
S1,old,row 17,2,0,P1,+,2.01572e-07,0.001
""",
    ),
    "an interval up to an open contact": (
        """[[use]]
kind = "dynamic microphone"
""",
        """specimen,resistance [mΩ]
A,2
B,200
""",
    ),
    "scatter that only the meter shows": (
        """reference = "new"
[bench.voltmeter]
resolution = "1 V"
""",
        """specimen,condition,voltage [mV],current [mA]
A,new,0.25,100
A,new,0.25,100
""",
    ),
    "all below zero": (
        """scale = "linear"
[[use]]
kind = "dynamic microphone"
""",
        """specimen,resistance [mΩ]
A,-1
B,-1.5
C,0.5
""",
    ),
    "single readings without scatter of their own": (
        """scale = "linear"
""",
        """specimen,mating,polarity,voltage [V],current [A]
S0,1,-,9.98998e-08,-0.1
S1,0,,1.001e-07,0.1
S2,1,-,9.99e-08,-0.1
S3,1,+,1.001e-07,0.1
S3,1,,1.001e-07,0.1
""",
    ),
}
