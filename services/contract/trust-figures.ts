/**
 * How far our formulas lie from each source at worst: about | source | status | checks | worst | measure | unit.
 * Written by the tests from the comparisons themselves, never by hand.
 */
export const trustFigures = `
Toxic share of ammonia | Emerson, Russo, Lund & Thurston 1975, J. Fish. Res. Board Can. 32:2379-2383 (table; also reprinted in EPA criteria documents) | memory | 41 | 0.0068 | relative | 
Toxic share of ammonia | Fundamentals of Aquatic Veterinary Medicine, Table 1.4 (values from Emerson et al. 1975; same table as UF/IFAS FA16 Fig. 4), web reader copy | quoted | 29 | 0.000054 | absolute | 
Toxic share of ammonia | the named formula, computed apart from our code | derived | 5 | 0.000018 | relative | 
Toxic ammonia from a kit | the named formula, computed apart from our code | derived | 2 | 0.000074 | relative | 
Acid constant of ammonia in salty water | the named formula, computed apart from our code | derived | 5 | 0.000036 | absolute | 
Toxic share of ammonia with ions | the named formula, computed apart from our code | derived | 3 | 0.000091 | relative | 
Ammonia limits for wild waters | Oregon DEQ Tables 30a-c (= EPA 822-R-13-001, 2013), as two-significant-figure test values in the public R package ORDEQWaterQualityCriteria | quoted | 32 | 0.022 | relative | 
Ammonia limits of 1999 | the named formula, computed apart from our code | derived | 9 | 0.00017 | relative | 
Conversions | the named formula, computed apart from our code | derived | 12 | 0.00038 | relative | 
Free nitrous acid | the named formula, computed apart from our code | derived | 2 | 0.000038 | absolute | 
Free nitrous acid | the named formula, computed apart from our code | derived | 3 | 0.0031 | relative | 
Free ammonia of nitrification papers | the named formula, computed apart from our code | derived | 2 | 0.0014 | relative | 
Salt against nitrite | the named formula, computed apart from our code | derived | 1 | 0 | absolute | mg Cl/L
Salt against nitrite | the named formula, computed apart from our code | derived | 1 | 0.000012 | relative | 
Salt against nitrite | the named formula, computed apart from our code | derived | 2 | 0.00052 | absolute | g
Cost of nitrification | the named formula, computed apart from our code | derived | 1 | 0.00043 | absolute | g CaCO3/g N
Cost of nitrification | the named formula, computed apart from our code | derived | 3 | 0.00036 | absolute | g O2/g N
Cost of nitrification | the named formula, computed apart from our code | derived | 4 | 0.0005 | absolute | dKH
Growth by temperature | the named formula, computed apart from our code | derived | 6 | 0.00059 | absolute | 
Growth of nitrifiers | the named formula, computed apart from our code | derived | 3 | 0.00015 | relative | 
Growth of nitrifiers | the named formula, computed apart from our code | derived | 1 | 0.0011 | absolute | h
Days of a dose | the named formula, computed apart from our code | derived | 2 | 0.0028 | absolute | d
Nitrite of a dose | the named formula, computed apart from our code | derived | 8 | 0.00032 | absolute | mg N/L
Slope of an ideal electrode | the named formula, computed apart from our code | derived | 6 | 0.00046 | absolute | mV/pH
Buffers | NBS/NIST pH standards as a lookup table in a public firmware header; 25 degC carbonate 10.012 and borax 9.180 also in the abstract of Staples & Bates 1969 | quoted | 52 | 0 | absolute | pH
Buffers | table of common technical buffers in an industrial instrument manual | quoted | 18 | 0 | absolute | pH
Electrode | the named formula, computed apart from our code | derived | 3 | 0.0025 | absolute | mV/pH, %, mV
Electrode | the named formula, computed apart from our code | derived | 2 | 0.00031 | absolute | pH shown
Constants of carbonic acid | the named formula, computed apart from our code | derived | 9 | 0.000046 | absolute | 
Constant of water | the named formula, computed apart from our code | derived | 6 | 0.000043 | absolute | 
Solubility of carbon dioxide | the named formula, computed apart from our code | derived | 6 | 0.000046 | absolute | 
Constants of carbonic acid | Harned & Davis 1943 table (Stumm & Morgan) | memory | 4 | 0.0011 | absolute | 
Constants of carbonic acid | Harned & Scholes 1941 table (Stumm & Morgan) | memory | 4 | 0.0036 | absolute | 
Conversions | the named formula, computed apart from our code | derived | 3 | 0.003 | absolute | mg/L
Conversions | the named formula, computed apart from our code | derived | 1 | 0.0000025 | absolute | meq/L
Doses | the named formula, computed apart from our code | derived | 3 | 0.000095 | absolute | g
Carbon dioxide by the rule of thumb | the named formula, computed apart from our code | derived | 4 | 0.00024 | relative | 
Carbon dioxide from KH and pH | the named formula, computed apart from our code | derived | 3 | 0.00019 | relative | 
pH at rest with the air | the named formula, computed apart from our code | derived | 9 | 0.00042 | absolute | pH
Carbon dioxide at rest with the air | the named formula, computed apart from our code | derived | 1 | 0.00038 | absolute | mg/L
Oxygen at rest with the air | the named formula, computed apart from our code | derived | 19 | 0.00046 | absolute | mg/L
Oxygen at rest with the air | EN 25814 (ISO 5814) table in an instrument manual | quoted | 8 | 0.043 | absolute | mg/L
Air pressure by height | the named formula, computed apart from our code | derived | 1 | 0.000049 | absolute | atm
Heat | the named formula, computed apart from our code | derived | 3 | 0.0012 | absolute | h
Heat | the named formula, computed apart from our code | derived | 1 | 0.0042 | absolute | W/(m2 K)
Heat | the named formula, computed apart from our code | derived | 1 | 0.00015 | absolute | degC
Heat | the named formula, computed apart from our code | derived | 1 | 0.00026 | absolute | W/K
Evaporation | the named formula, computed apart from our code | derived | 4 | 0.00048 | absolute | kg/(m2 h)
Evaporation | the named formula, computed apart from our code | derived | 1 | 0.036 | absolute | W
Ammonia from food | the named formula, computed apart from our code | derived | 1 | 0 | absolute | 
Ammonia from food | the named formula, computed apart from our code | derived | 3 | 0 | absolute | mg N/d
Ammonia from food | the named formula, computed apart from our code | derived | 1 | 0.00033 | absolute | mg N/L/d
Water changes | the named formula, computed apart from our code | derived | 3 | 0.0033 | absolute | mg/L
Water changes | the named formula, computed apart from our code | derived | 2 | 0.000011 | absolute | 
Water changes | the named formula, computed apart from our code | derived | 1 | 0 | absolute | changes
Doses | the named formula, computed apart from our code | derived | 3 | 0.00062 | absolute | mg/mg
Doses | the named formula, computed apart from our code | derived | 2 | 0.00006 | absolute | mg N/L
Doses | the named formula, computed apart from our code | derived | 1 | 0.000012 | absolute | mg NH3/L
Doses | the named formula, computed apart from our code | derived | 2 | 0.0041 | absolute | mg N/mL
Transport bag | the named formula, computed apart from our code | derived | 1 | 0 | absolute | mg/L
Transport bag | the named formula, computed apart from our code | derived | 1 | 0.0049 | absolute | pH
Transport bag | the named formula, computed apart from our code | derived | 1 | 0 | absolute | mg N/L
Transport bag | the named formula, computed apart from our code | derived | 2 | 0.011 | relative | 
Mixing of two waters | the named formula, computed apart from our code | derived | 3 | 0 | absolute | dKH
Mixing of two waters | the named formula, computed apart from our code | derived | 4 | 0.000031 | relative | 
Mixing of two waters | the named formula, computed apart from our code | derived | 9 | 0.00049 | absolute | pH
Oxygen at rest with the air | gsw 3.6.16, the fit of Garcia & Gordon 1992 to the same measurements | independent | 136 | 0.0026 | absolute | mg/L
Carbon dioxide from KH and pH | phreeqpython 1.6.2 (PHREEQC, phreeqc.dat), water almost without ions | independent | 50 | 0.013 | relative | 
pH at rest with the air | phreeqpython 1.6.2 (PHREEQC, phreeqc.dat), water almost without ions | independent | 30 | 0.0029 | absolute | pH
Mixing of two waters | phreeqpython 1.6.2 (PHREEQC, phreeqc.dat), water almost without ions | independent | 6 | 0.00069 | absolute | pH
Carbon dioxide from KH and pH | phreeqpython 1.6.2 (PHREEQC, phreeqc.dat), 0.5 to 15 dKH with its ions | independent | 150 | 0.093 | relative | 
pH at rest with the air | phreeqpython 1.6.2 (PHREEQC, phreeqc.dat), 0.5 to 15 dKH with its ions | independent | 90 | 0.043 | absolute | pH
Mixing of two waters | phreeqpython 1.6.2 (PHREEQC, phreeqc.dat), 0.5 to 15 dKH with its ions | independent | 12 | 0.0061 | absolute | pH
Toxic share of ammonia | phreeqpython 1.6.2 (PHREEQC, phreeqc.dat) | independent | 45 | 0.0042 | relative | 
Nitrite of a dose | odex 2.0.4, Gragg-Bulirsch-Stoer extrapolation at 1e-11 | independent | 480 | 5.8e-7 | absolute | mg N/L
Buffers | 7.000 phosphate of a public firmware header, 0 to 30 degC | independent | 7 | 0.004 | absolute | pH
Buffers | JIS Z 8802:2011, four NIST buffers as a maker of meters prints them | independent | 36 | 0.012 | absolute | pH
Buffers | Hetzer, Durst, Robinson & Bates 1977, formula for phthalate (abstract) | independent | 51 | 0.01 | absolute | pH
`
