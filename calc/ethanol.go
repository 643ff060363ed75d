package calc

// ethanolDensityPure20 is EthanolDensity20 as a plain number, for the cores.
const ethanolDensityPure20 = 789.23912

// EthanolDensity20 is the density of pure ethanol at 20 °C: 789.23912 g/L, what
// OIML R 22 gives for p = 1. Grams of ethanol per litre of drink at 20 °C, over
// this, are its strength by volume, so 1 % vol is 7.8924 g/L.
const EthanolDensity20 GramPerLitre = ethanolDensityPure20

// r22A holds A_k of OIML R 22: the density at 20 °C as a polynomial in the mass
// fraction p. Its first is the density of water there, in kg/m³.
var r22A = [12]float64{
	9.982012300e2,
	-1.929769495e2,
	3.891238958e2,
	-1.668103923e3,
	1.352215441e4,
	-8.829278388e4,
	3.062874042e5,
	-6.138381234e5,
	7.470172998e5,
	-5.478461354e5,
	2.234460334e5,
	-3.903285426e4,
}

// r22B holds B_k of OIML R 22: the thermal expansion of water, by (t − 20)^k.
var r22B = [6]float64{
	-2.0618513e-1,
	-5.2682542e-3,
	3.6130013e-5,
	-3.8957702e-7,
	7.1693540e-9,
	-9.9739231e-11,
}

// r22C holds C_i,k of OIML R 22: row k−1 is for p^k, column i−1 for (t − 20)^i.
// C_2,3 circulates with two slips in its last digits, −2.170575700536933 and
// −2.170575700563993.
var r22C = [11][5]float64{
	{1.693443461530087e-1, -1.193013005057010e-2, -6.802995733503803e-4, 4.075376675622027e-6, -2.788074354782409e-8},
	{-1.046914743455169e1, 2.517399633803461e-1, 1.876837790289664e-2, -8.763058573471110e-6, 1.345612883493354e-8},
	{7.196353469546523e1, -2.170575700536993, -2.002561813734156e-1, 6.515031360099368e-6},
	{-7.047478054272792e2, 1.353034988843029e1, 1.022992966719220, -1.515784836987210e-6},
	{3.924090430035045e3, -5.029988758547014e1, -2.895696483903638},
	{-1.210164659068747e4, 1.096355666577570e2, 4.810060584300675},
	{2.248646550400788e4, -1.422753946421155e2, -4.672147440794683},
	{-2.605562982188164e4, 1.080435942856230e2, 2.458043105903461},
	{1.852373922069467e4, -4.414153236817392e1, -5.411227621436812e-1},
	{-7.420201433430137e3, 7.442971530188783},
	{1.285617841998974e3},
}

// EthanolDensity returns the density in vacuum of a mixture of ethanol and water,
//
//	ρ(p, t) = A1 + Σ A_k·p^(k−1) + Σ B_k·(t−20)^k + Σ_i Σ_k C_i,k·p^k·(t−20)^i
//
// with p the mass fraction of ethanol and t in °C (the scale of 1968; 0.005 °C off
// today's at 20 °C).
//
// p from 0 to 100 % mass, t from −20 to 40 °C; otherwise the error wraps
// [ErrOutOfRange] or [ErrNotANumber]. The formula is for the liquid: a weak
// mixture well below 0 °C is ice, and its figure means nothing.
//
// Source: OIML R 22 (1975), also Council Directive 76/766/EEC, annex. At 20 °C,
// 998.20123 kg/m³ for water and 789.23912 for ethanol.
func EthanolDensity(p PercentMass, t Celsius) (KilogramPerCubicMetre, error) {
	if err := inRange("alcohol", float64(p), 0, 100, " % mass"); err != nil {
		return 0, err
	}
	if err := inRangeR22(t); err != nil {
		return 0, err
	}
	return KilogramPerCubicMetre(ethanolDensity(float64(p)/100, float64(t))), nil
}

// EthanolDensityAtStrength returns the density at t of a mixture of ethanol and
// water whose strength, reckoned at 20 °C as always, is abv: it solves
//
//	p·ρ(p, 20 °C) = abv/100 · 789.239 kg/m³
//
// for the mass fraction p and takes [EthanolDensity] of that.
//
// abv from 0 to 100 % vol, t from −20 to 40 °C; otherwise the error wraps
// [ErrOutOfRange] or [ErrNotANumber]. Source: OIML R 22 (1975). 40 % vol at 20 °C
// weighs 948.045 kg/m³.
func EthanolDensityAtStrength(abv PercentVol, t Celsius) (KilogramPerCubicMetre, error) {
	if err := inRange("strength", float64(abv), 0, 100, " % vol"); err != nil {
		return 0, err
	}
	if err := inRangeR22(t); err != nil {
		return 0, err
	}
	return KilogramPerCubicMetre(ethanolDensity(ethanolFractionOfABV(float64(abv)), float64(t))), nil
}

// ABWOfABV returns the percentage of ethanol by mass in a mixture of ethanol and
// water of the given strength, 100·p with p·ρ(p) = abv/100 · 789.239 at 20 °C. It
// is not for drinks with extract, whose density is another.
//
// abv from 0 to 100 % vol; otherwise the error wraps [ErrOutOfRange] or
// [ErrNotANumber]. Source: OIML R 22 (1975). 12 % vol are 9.6410 % mass.
func ABWOfABV(abv PercentVol) (PercentMass, error) {
	if err := inRange("strength", float64(abv), 0, 100, " % vol"); err != nil {
		return 0, err
	}
	return PercentMass(100 * ethanolFractionOfABV(float64(abv))), nil
}

// ABVOfABW returns the strength of a mixture of ethanol and water with p % ethanol
// by mass, p·ρ(p)/789.239 at 20 °C: the inverse of [ABWOfABV].
//
// p from 0 to 100 % mass; otherwise the error wraps [ErrOutOfRange] or
// [ErrNotANumber]. Source: OIML R 22 (1975). 10 % mass are 12.440 % vol.
func ABVOfABW(p PercentMass) (PercentVol, error) {
	if err := inRange("alcohol", float64(p), 0, 100, " % mass"); err != nil {
		return 0, err
	}
	x := float64(p) / 100
	return PercentVol(100 * x * ethanolDensity20(x) / ethanolDensityPure20), nil
}

func inRangeR22(t Celsius) error {
	return inRange("temperature", float64(t), -20, 40, " °C")
}

// ethanolDensity returns the density in kg/m³ of a mixture with mass fraction p of
// ethanol at t °C; see [EthanolDensity]. Nothing is checked.
func ethanolDensity(p, t float64) float64 {
	var k [12]float64 // the density at t as a polynomial in p
	k[0] = r22A[0] + (t-20)*horner(r22B[:], t-20)
	for i := range r22C {
		k[i+1] = r22A[i+1] + (t-20)*horner(r22C[i][:], t-20)
	}
	return horner(k[:], p)
}

// ethanolDensity20 is ethanolDensity at 20 °C, five times as fast.
func ethanolDensity20(p float64) float64 { return horner(r22A[:], p) }

// ethanolFractionFromConcentration20 returns the mass fraction of ethanol when a
// litre of a mixture with water holds c grams at 20 °C; 0 below none and 1 above
// pure ethanol.
func ethanolFractionFromConcentration20(c float64) float64 {
	guess := c / (r22A[0] - c*(0.16+1.33e-4*c)) // right to 0.01 up to pure ethanol
	return fractionOfConcentration(c, r22A[:], guess, 0, 1)
}

func ethanolFractionOfABV(abv float64) float64 {
	return ethanolFractionFromConcentration20(abv / 100 * ethanolDensityPure20)
}

// ethanolRelative20 returns the gravity 20/20 of a mixture with water that holds c
// grams of ethanol per litre; exactly 1 for none. Nothing is checked.
func ethanolRelative20(c float64) float64 {
	return ethanolDensity20(ethanolFractionFromConcentration20(c)) / r22A[0]
}
