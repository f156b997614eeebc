"""The bibliography that docstrings, tests and reports share."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ohmsworth.errors import UnknownName

#: published: read or quoted from a published text; memory: recalled, not read; common practice: no source.
Standing = Literal["published", "memory", "common practice"]


@dataclass(frozen=True, slots=True)
class Source:
    """Where a fact or a method comes from, and how far that goes."""

    key: str
    citation: str
    standing: Standing = "published"


def _book(*entries: Source) -> dict[str, Source]:
    return {entry.key: entry for entry in entries}


# fmt: off
SOURCES: dict[str, Source] = _book(
    Source("GUM", "JCGM 100:2008, Evaluation of measurement data: Guide to the expression of uncertainty in measurement"),
    Source("JCGM106", "JCGM 106:2012, Evaluation of measurement data: The role of measurement uncertainty in conformity assessment"),
    Source("EA4/02", "EA-4/02 M, Evaluation of the uncertainty of measurement in calibration, supplement S9", "memory"),
    Source("IEC60512-2-1", "IEC 60512-2-1:2002, contact resistance, millivolt level method: 20 mV at most, total error 1 % at most"),
    Source("IEC60512-4", "IEC 60512-2-1:2002, clause 4: 100 mA at most, forward and reversed reading averaged", "memory"),
    Source("ASTM-B539", "ASTM B539-02 (2013), measuring resistance of electrical connections: current reversal, low-level method"),
    Source("ASTM-B667", "ASTM B667-97 (2019), construction and use of a probe for measuring electrical contact resistance"),
    Source("Holm", "R. Holm, Electric Contacts, 4th edition: softening and melting voltages, voltage-temperature relation"),
    Source("low-level", "low-level measurement handbooks: thermal EMF of metal pairs against copper"),
    Source("KenwardRoger", "M. G. Kenward, J. H. Roger, Small sample inference for fixed effects from REML, Biometrics 53 (1997) 983"),
    Source("Hayter1984", "A. J. Hayter, A proof of the conjecture that the Tukey-Kramer multiple comparisons procedure is conservative, Ann. Stat. 12 (1984) 61", "memory"),
    Source("LairdWare", "N. M. Laird, J. H. Ware, Random-effects models for longitudinal data, Biometrics 38 (1982) 963", "memory"),
    Source("PattersonThompson", "H. D. Patterson, R. Thompson, Recovery of inter-block information, Biometrika 58 (1971) 545"),
    Source("BarnettMagland2019", "A. H. Barnett, J. F. Magland, L. af Klinteberg, A parallel nonuniform FFT library based on an exponential of semicircle kernel, SIAM J. Sci. Comput. 41 (2019) C479", "memory"),
    Source("Satterthwaite", "F. E. Satterthwaite, An approximate distribution of estimates of variance components, Biometrics 2 (1946) 110"),
    Source("HartungKnapp", "J. Hartung, G. Knapp, A refined method for the meta-analysis of controlled clinical trials, Stat. Med. 20 (2001) 3875: the form of the weighted t", "memory"),
    Source("CochranCox", "W. G. Cochran, G. M. Cox, Experimental Designs, 2nd edition, 4.14: two means of unequal variance", "memory"),
    Source("Henderson", "C. R. Henderson, Best linear unbiased estimation and prediction under a selection model, Biometrics 31 (1975) 423", "memory"),
    Source("PrasadRao", "N. G. N. Prasad, J. N. K. Rao, The estimation of the mean squared error of small-area estimators, J. Am. Stat. Assoc. 85 (1990) 163", "memory"),
    Source("Schuirmann", "D. J. Schuirmann, two one-sided tests procedure, J. Pharmacokinet. Biopharm. 15 (1987) 657", "memory"),
    Source("LanSimonHalperin", "K. K. G. Lan, R. Simon, M. Halperin, Stochastically curtailed tests in long-term clinical trials, Commun. Stat. C 1 (1982) 207", "memory"),
    Source("LanDeMets", "K. K. G. Lan, D. L. DeMets, Discrete sequential boundaries for clinical trials, Biometrika 70 (1983) 659", "memory"),
    Source("JennisonTurnbull", "C. Jennison, B. W. Turnbull, Group Sequential Methods with Applications to Clinical Trials, 2000: recursion, bounds of Pocock and of O'Brien and Fleming", "memory"),
    Source("Fisher-sign-flip", "R. A. Fisher, The Design of Experiments, section 21: the exact test on Darwin's plants", "memory"),
    Source("DonnerZou", "A. Donner, G. Y. Zou, closed-form confidence intervals for functions of two parameters, Stat. Methods Med. Res. 21 (2012) 347", "memory"),
    Source("Dunnett", "C. W. Dunnett, New tables for multiple comparisons with a control, Biometrics 20 (1964) 482", "memory"),
    Source("Fisher-z", "R. A. Fisher, On the probable error of a coefficient of correlation, Metron 1 (1921) 3: artanh r and its variance", "memory"),
    Source("Dunn", "O. J. Dunn, Multiple comparisons among means, J. Am. Stat. Assoc. 56 (1961) 52: Bonferroni's bound for intervals", "memory"),
    Source("Fieller", "E. C. Fieller, Some problems in interval estimation, J. R. Stat. Soc. B 16 (1954) 175", "memory"),
    Source("Natrella", "M. G. Natrella, Experimental Statistics, NBS Handbook 91: one-sided tolerance factors (non-central t)"),
    Source("MIL-STD-105E", "MIL-STD-105E, sampling procedures and tables for inspection by attributes (ISO 2859-1, ANSI/ASQ Z1.4 alike)"),
    Source("ISO2859-1", "ISO 2859-1:1999, sampling procedures for inspection by attributes: switching between normal, tightened, reduced", "memory"),
    Source("MIL-STD-414", "MIL-STD-414, ANSI/ASQ Z1.9, sampling by variables, standard deviation method (s), forms 1 and 2", "memory"),
    Source("ClopperPearson", "C. J. Clopper, E. S. Pearson, The use of confidence or fiducial limits, Biometrika 26 (1934) 404", "memory"),
    Source("Montgomery", "D. C. Montgomery, Introduction to Statistical Quality Control: acceptance sampling by attributes and variables", "memory"),
    Source("Owen", "D. B. Owen, A special case of a bivariate non-central t-distribution, Biometrika 52 (1965) 437", "memory"),
    Source("Wilks", "S. S. Wilks, Determination of sample sizes for setting tolerance limits, Ann. Math. Statist. 12 (1941) 91", "memory"),
    Source("KrishnamoorthyMathew", "K. Krishnamoorthy, T. Mathew, One-sided tolerance limits in random models, Technometrics 46 (2004) 44", "memory"),
    Source("KnappHartung-guard", "G. Knapp, J. Hartung, Stat. Med. 22 (2003) 2693, and C. Röver, G. Knapp, T. Friede, BMC Med. Res. Methodol. 15 (2015) 99, abstract: never narrower than the studies' own uncertainties allow"),
    Source("Cochran1954", "W. G. Cochran, The combination of estimates from different experiments, Biometrics 10 (1954) 101: Q", "memory"),
    Source("HigginsThompson", "J. P. T. Higgins, S. G. Thompson, Quantifying heterogeneity in a meta-analysis, Stat. Med. 21 (2002) 1539, summary: the share of scatter that lies between studies"),
    Source("Higgins2009", "J. P. T. Higgins, S. G. Thompson, D. J. Spiegelhalter, A re-evaluation of random-effects meta-analysis, J. R. Stat. Soc. A 172 (2009) 137: the next study, k − 2 degrees of freedom", "memory"),
    Source("Viechtbauer2007", "W. Viechtbauer, Confidence intervals for the amount of heterogeneity in meta-analysis, Stat. Med. 26 (2007) 37: by inverting Q", "memory"),
    Source("Colditz1994", "G. A. Colditz and others, thirteen trials of a vaccine (1994): log risk ratios with REML and the t of Hartung and Knapp, as a published worked example prints them"),
    Source("Bayes-Laplace", "the rule of succession: after g good of n cases the next is good with (g + 1)/(n + 2)", "memory"),
    Source("GelmanBDA", "A. Gelman and others, Bayesian Data Analysis, 3rd edition, 2.4: 437 of 980 births under an even prior", "memory"),
    Source("Altham1969", "P. M. E. Altham, Exact Bayesian analysis of a 2 × 2 contingency table, and Fisher's exact significance test, J. R. Stat. Soc. B 31 (1969) 261", "memory"),
    Source("GraybillIyer", "F. A. Graybill, H. K. Iyer, Regression Analysis: Concepts and Applications (1994), pp. 431 to 434: inverse prediction, figures as quoted by others"),
    Source("least-cost-testing", "W. E. Price, H. W. Price and L. G. Mitten, sequences of tests of least cost (1959, 1960): by cost over chance of success, the smallest first", "memory"),
    Source("NIOSH0359", "NIOSH Pocket Guide 0359, isopropyl alcohol: flash point 53 °F (12 °C), explosive from 2.0 to 12.7 %, exposure limit 400 ppm"),
    Source("IEC60228", "IEC 60228:2004, Conductors of insulated cables: largest resistance of copper, classes 1, 2, 5 and 6; temperature factors"),
    Source("ASTM-B258", "ASTM B258, standard nominal diameters and cross-sectional areas of AWG sizes of solid round wires", "memory"),
    Source("IACS", "International Annealed Copper Standard: 58 MS/m at 20 °C, temperature coefficient 0.00393/K"),
    Source("IEC61938", "IEC 61938:2018, analogue audio interconnections: phantom power P12, P48"),
    Source("Johnson-Nyquist", "J. B. Johnson, H. Nyquist, Phys. Rev. 32 (1928): thermal noise 4kTRB"),
    Source("metal-handbook", "handbook tables of resistivity and its temperature coefficient at 20 °C (tin 11.5, nickel 6.84 are seen too)"),
    Source("CODATA", "CODATA 2018: exact Boltzmann constant and elementary charge"),
    Source("ITS-90", "International Temperature Scale of 1990: freezing points of Sn, Ag, Au, Cu", "memory"),
    Source("skin-effect", "internal impedance of a round wire by Bessel functions, and of a thin screen by hyperbolic ones, classical", "memory"),
    Source("line-geometry", "reference tables of transmission lines: coaxial line 2πε/ln(D/d), two-wire line πε/arcosh(s/d), inductances alike"),
    Source("coax-tables", "tables of coaxial types: 59 type 0.023 in within 0.146 in of polyethylene, 11 type 7/26 AWG within 0.285 in; velocity 0.66, 21 pF/ft"),
    Source("dielectrics", "handbook tables of dielectrics, permittivity (loss tangent): polyethylene 2.2 to 2.3 (0.0003), polyvinyl chloride 4 (0.04)"),
    Source("chain-matrix", "C. R. Paul, Analysis of Multiconductor Transmission Lines: chain-parameter matrices", "memory"),
    Source("nodal-analysis", "C.-W. Ho, A. E. Ruehli, P. A. Brennan, The modified nodal approach to network analysis, IEEE Trans. Circuits Syst. 22 (1975) 504", "memory"),
    Source("RF64", "EBU Tech 3306, RF64: RIFF, WAVE and ds64 chunks, and files of more than 4 GB", "memory"),
    Source("Touchstone", "Touchstone File Format Specification, versions 1.1, 2.0 and 2.1, IBIS Open Forum: the rules of the format", "memory"),
    Source("Touchstone-examples", "Touchstone File Format Specification: files of its examples, as they stand in the tests of open-source readers"),
    Source("SPICE", "SPICE input language, University of California at Berkeley: element cards R, C, L, K, V, I, E and the .ac line", "memory"),
    Source("lumped-line", "lumped π sections of a line: cosh γ'l = 1 + zy/2, and its image impedance, classical ladder theory", "memory"),
    Source("NIST-handbook", "NIST/SEMATECH e-Handbook of Statistical Methods, 2.4.4, 2.6.2 and 6.3.2: check standards, control charts"),
    Source("ISO7870-2", "ISO 7870-2, Control charts, part 2: Shewhart control charts", "memory"),
    Source("Page1954", "E. S. Page, Continuous inspection schemes, Biometrika 41 (1954) 100", "memory"),
    Source("LucasSaccucci", "J. M. Lucas, M. S. Saccucci, Exponentially weighted moving average control schemes, Technometrics 32 (1990) 1", "memory"),
    Source("vanDobben", "C. S. van Dobben de Bruyn, Cumulative Sum Tests: run length of a two-sided scheme from its sides", "memory"),
    Source("AIAG-MSA", "AIAG, Measurement Systems Analysis, 4th edition: repeatability and reproducibility by analysis of variance", "memory"),
    Source("ISO5725-2", "ISO 5725-2, repeatability and reproducibility of a standard measurement method", "memory"),
    Source("Z540-3", "ANSI/NCSL Z540.3: test uncertainty ratio, the span of the tolerance over twice the expanded uncertainty", "memory"),
    Source("Slade", "P. G. Slade (editor), Electrical Contacts: Principles and Applications, clean contact: F = AH, R² = ρ²πH/(4F), as others quote it"),
    Source("Holm-memory", "R. Holm, Electric Contacts: constriction of one spot, film resistance, breakdown of films (fritting) at about 1e8 V/m", "memory"),
    Source("Greenwood", "J. A. Greenwood, Constriction resistance and the real area of contact, Br. J. Appl. Phys. 17 (1966) 1621", "memory"),
    Source("Archard", "J. F. Archard, Contact and rubbing of flat surfaces, J. Appl. Phys. 24 (1953) 981", "memory"),
    Source("wear-tables", "lectures and encyclopedias on wear: Archard's coefficient 1e-2 (severe, dry) to 1e-6 and lower (mild); adhesive about 1e-4, fretting 1e-6 to 1e-4"),
    Source("wear-memory", "Archard's coefficient under a good boundary lubricant, 1e-8 to 1e-6", "memory"),
    Source("Antler", "M. Antler, Wear of gold electrodeposits: effect of substrate and of nickel underplate, Bell Syst. Tech. J. 58 (1979) 323, abstract"),
    Source("Antler1988", "M. Antler, The tribology of contact finishes for electronic connectors, Plating and Surface Finishing 75 (10) (1988) 46"),
    Source("fretting-memory", "literature on fretting corrosion of tin, nickel and copper contacts", "memory"),
    Source("ISA71.04", "ANSI/ISA-71.04-2013, airborne contaminants: classes G1 to GX by the film on copper and silver after 30 days"),
    Source("TamaiKuranaga", "T. Tamai, Y. Kuranaga, IEICE Trans. Electron. E78-C (1995) 1273: 500 Å of silver sulfide from 3000 h of office air add 0.1 to 1.0 Ω at low force"),
    Source("silver-museum", "Study of environmental degradation of silver surface, Phys. Stat. Sol. C 5 (2008) 1215: 180 and 280 Å in six months"),
    Source("Franey", "J. P. Franey, G. W. Kammlott, T. E. Graedel, The corrosion of silver by atmospheric sulfurous gases, Corros. Sci. 25 (1985) 133, abstract"),
    Source("Russ", "G. J. Russ, Electrical characteristics of contacts contaminated with silver sulfide film, IEEE Trans. PMP 6 (1970) 129, abstract"),
    Source("Bresgen", "H. Bresgen, Contact resistance, adhesion and wear of tarnished and untarnished silver, Wear 69 (1981) 157, abstract"),
    Source("silver-load", "Tarnishing (Ag2S) layer on silver-plated electrical contacts: its influence on electrical contact resistance, abstract"),
    Source("silver-review", "M. Myers, Overview of the use of silver in connector applications, 2009"),
    Source("silver-power", "E. Bock, Silver, a superior finish for high-current applications, trade article"),
    Source("indoor-corrosion", "Indoor corrosion of metals, J. Electrochem. Soc. 127 (1980) 891, abstract"),
    Source("alloy-tarnish", "Mechanism of tarnishing of precious-metal contact alloys, IEEE Trans. PMP 5 (1969), abstract: linear, then by the cube root"),
    Source("tarnish-memory", "growth of tarnish films: linear where the gas is scarce, parabolic where the film slows it", "memory"),
    Source("film-memory", "conduction through thin films: tunnelling (J. G. Simmons, J. Appl. Phys. 34 (1963) 1793), sinh and cubic laws, V0 of tens to hundreds of mV", "memory"),
    Source("metal-memory", "Curie point of nickel, 631 K", "memory"),
    Source("anodic-index", "tables of the anodic index of metals, widely reprinted, with 0.15 V (harsh), 0.25 V (normal), 0.50 V (controlled) as largest differences"),
    Source("gold-hardness", "trade articles on gold plating: hard 130 to 200 HK, soft 20 to 90 HK and soon worn by sliding"),
    Source("gold-rules", "Guidelines for the use of gold on connector contacts, technical report, 1996: thirteen rules"),
    Source("tin-rules", "rules for tin on contacts, in B. Chudnovsky, Electrical Power Transmission and Distribution, abstract of the chapter on plating"),
    Source("copper-guide", "connector design guide of the copper trade: usual plating thickness, 28 % IACS of cartridge brass, springs of high strength"),
    Source("nickel-underplate", "R. S. Mroczkowski, Nickel underplates, trade article, 2012: 1.25 to 2.5 µm"),
    Source("nickel-deposits", "letters on metal finishing: resistivity of bright nickel, 12 to 19 µΩ·cm"),
    Source("bronze-data", "data sheets of phosphor bronze strip to ASTM B103: 14, 15 and 20 % IACS, resistance to fatigue"),
    Source("plating-handbooks", "handbooks of electroplating and of copper alloys: hardness, resistivity, thickness, whiskers, pores", "memory"),
    Source("ICSC0680", "International Chemical Safety Card 0680, thiourea: avoid all contact, keep from acids, marine pollutant"),
    Source("CCI9/7", "Canadian Conservation Institute, CCI Notes 9/7: silver dips remove silver, not often"),
    Source("loudspeaker", "R. H. Small, Direct-radiator loudspeaker system analysis, J. Audio Eng. Soc. 20 (1972) 383: electrical equivalent circuit", "memory"),
    Source("IEC60512-5-2", "IEC 60512-5-2, current-temperature derating: the corrected curve is 0.8 of the base curve"),
    Source("IEC60479-1", "IEC TS 60479-1, effects of current on human beings: touch voltage of 50 V alternating, 120 V direct current for adults"),
    Source("Whitlock", "B. Whitlock, Grounding and interfacing, in G. Ballou (ed.), Handbook for Sound Engineers, p. 1217: consumer output of 1 kΩ; 200 ft of 17 pF/ft pass 50 kHz"),
    Source("Lemme", "H. E. W. Lemme, The secrets of electric guitar pickups (2003): resonances from 2 to 5 kHz, 1 to 10 H, 80 to 200 pF, cables of 300 to 1000 pF, peaks up to 12 dB"),
    Source("pickup-cable", "Instrument cable and sound, an article for players: 2.4 H with a cable of 300 pF resonate at about 6 kHz, with 2.4 nF a little above 2 kHz"),
    Source("Haberman2011", "M. A. Haberman, A. M. Cassino, E. M. Spinelli, Estimation of stray coupling capacitances in biopotential measurements (2011): body to earth from hundreds of pF to nF, body to power line from hundredths of pF to few pF"),
    Source("BreebaartFaller", "J. Breebaart, C. Faller, Spatial Audio Processing, 3.5.1: the least difference of level between the ears that is noticed is about 0.5 to 1 dB"),
    Source("headphone-bass", "A worked example from a public discussion of amplifiers for headphones: 300 ohms with a peak of 600 ohms on an output of 30 ohms change the response by 0.4 dB"),
    Source("ST292", "SMPTE ST 259 and ST 292, serial digital video on 75 Ω coaxial cable: return loss at least 15 dB from 5 MHz to the clock, cable loss up to 20 dB at half the clock"),
    Source("ST424", "SMPTE ST 424, serial digital video at 2.97 Gbit/s: return loss at least 10 dB from 1.485 to 2.97 GHz", "memory"),
    Source("AES3", "AES3, digital audio on a balanced line: 110 Ω within 20 % (88 to 132 Ω), 2 to 7 V peak to peak"),
    Source("AES3-receiver", "AES3 part 4, IEC 60958-4: a receiver decodes 200 mV over half a unit interval and bears 0.25 unit intervals of fast jitter; edges of 5 to 30 ns", "memory"),
    Source("IEC60958-4", "IEC 60958-4-4:2016, digital audio interface: 128 unit intervals in a frame, parameters up to 128 times the frame rate"),
    Source("RS485", "RS-485 in EURASIP J. Embedded Systems 2016, s13639-016-0042-x, Table 1: 1.5 V into 54 Ω, threshold ±200 mV, −7 to +12 V, loads of 12 kΩ, 32 of them"),
    Source("E1.11", "ANSI E1.11, DMX512: 250 kbit/s on 120 Ω, 32 unit loads, terminated at the far end; pin 1 screen, 2 data −, 3 data +"),
    Source("IEEE1057", "IEEE Std 1057, digitizing waveform recorders: three-parameter sine fit, least squares at a known frequency", "memory"),
    Source("Kay", "S. M. Kay, Fundamentals of Statistical Signal Processing: Estimation Theory, 1993, example 3.14: bounds for a sine in noise", "memory"),
    Source("open-short-load", "correction of impedance meters by open, short and load: the bilinear form of a linear network solved for the impedance", "memory"),
    Source("Davies", "R. B. Davies, Hypothesis testing when a nuisance parameter is present only under the alternative, Biometrika 64 (1977) 247", "memory"),
    Source("Currie", "L. A. Currie, Limits for qualitative detection and quantitative determination, Anal. Chem. 40 (1968) 586: critical value and detection limit", "memory"),
    Source("IEC60440", "IEC TR 60440, Method of measurement of non-linearity in resistors: the third-harmonic index", "memory"),
    Source("Fisher-combined", "R. A. Fisher, Statistical Methods for Research Workers: −2 Σ ln p of n independent tests is χ² with 2n degrees of freedom", "memory"),
    Source("Whittle", "P. Whittle, likelihood of a stationary series by its periodogram: Σ ln S + P/S over the frequencies", "memory"),
    Source("IEC60512-2-1-ac", "IEC 60512-2-1:2002, clauses 2 and 3: 20 mV direct or alternating peak, alternating current of at most 2 kHz, direct current governs disputes"),
    Source("Schroeder1970", "M. R. Schroeder, Synthesis of low-peak-factor signals and binary sequences with low autocorrelation, IEEE Trans. Inf. Theory 16 (1970) 85: phases of a flat spectrum, crest factor about 1.7", "memory"),
    Source("Riesz1914", "M. Riesz, Eine trigonometrische Interpolationsformel, Jber. Dtsch. Math.-Ver. 23 (1914) 354: a sum of tones falls from its largest value no faster than a cosine of its highest", "memory"),
    Source("VanDerOuderaa1988", "E. Van der Ouderaa, J. Schoukens, J. Renneboog, Peak factor minimization using a time-frequency domain swapping algorithm, IEEE Trans. Instrum. Meas. 37 (1988) 145", "memory"),
    Source("Rosner", "B. Rosner, Percentage points for a generalized ESD many-outlier procedure, Technometrics 25 (1983) 165", "memory"),
    Source("Hawkins-loop", "N. Hawkins, Electrical Guide, volume 3, p. 54: the loop test with a bridge"),
    Source("textbook-loop", "textbooks of electrical measurements: the loop test with fixed arms and a resistor in a row", "memory"),
    Source("open-by-capacitance", "guides to finding faults in cables: a broken wire by its capacitance from both ends"),
    Source("divider", "textbooks of circuits: a resistor and a capacitor as a divider, 1/(1 + jωRC)", "memory"),
    Source("constant-loss", "A. K. Jonscher, Dielectric Relaxation in Solids (1983): a loss alike at all frequencies, C falls as f to the power −2δ/π", "memory"),
    Source("Birge", "R. T. Birge, The calculation of errors by the method of least squares, Phys. Rev. 40 (1932) 207: intervals widened by what a fit leaves over", "memory"),
    Source("GilmoreGomory", "P. C. Gilmore, R. E. Gomory, A linear programming approach to the cutting-stock problem, Oper. Res. 9 (1961) 849", "memory"),
    Source("HuangfuHall", "Q. Huangfu, J. A. J. Hall, Parallelizing the dual revised simplex method, Math. Program. Comput. 10 (2018) 119: the solver HiGHS", "memory"),
    Source("practice", "common practice in the trade, no published source", "common practice"),
)
# fmt: on


def source(key: str) -> Source:
    """Look up a bibliography entry by `key`.

    Raises
    ------
    UnknownName
        When there is no such entry.
    """
    try:
        return SOURCES[key]
    except KeyError:
        raise UnknownName("source", key, tuple(SOURCES)) from None
