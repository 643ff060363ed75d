package calc

import "math"

// PKs are the pK of an acid's groups, in the order in which they give up their proton;
// 0 where it has no further one.
type PKs [3]float64

// The pK at 25 °C in water, all from memory (notes on acids, section 2, and textbooks
// for gluconic acid). At the ionic strength of a must they are 0.1 to 0.2 lower.
func TartaricPKs() PKs { return PKs{2.98, 4.34} }

// MalicPKs are those of the acid of apples; see [TartaricPKs].
func MalicPKs() PKs { return PKs{3.40, 5.11} }

// CitricPKs are those of the acid of lemons; see [TartaricPKs].
func CitricPKs() PKs { return PKs{3.13, 4.76, 6.40} }

// GluconicPKs are those of the acid of honey; see [TartaricPKs].
func GluconicPKs() PKs { return PKs{3.86} }

// charge returns how many protons a molecule has given up on average at a pH, and by
// how much the molecules differ in that: their variance.
func (k PKs) charge(ph PH) (mean, variance float64) {
	share, all, square := 1.0, 1.0, 0.0
	for i, pk := range k {
		if pk == 0 {
			break
		}
		n := float64(i + 1)
		share *= math.Pow(10, float64(ph)-pk)
		all += share
		mean += n * share
		square += n * n * share
	}
	mean /= all
	return mean, square/all - mean*mean
}

// titrationEnd is the pH at which a titration of acidity is read (common practice, and
// the rule in the US; the OIV stops at 7, which reads 0.1 to 0.3 g/L less).
const titrationEnd PH = 8.2

// Holding returns the moles of the acid in a litre whose titratable acidity is ta at a
// pH: the rest of it lies there as a salt, mostly of potassium, that no titration sees.
//
// ta from 0 to 1000 g/L, ph from 0 to 14; outside it is NaN. Past the end of a titration
// it is 0.
//
// Source: the mean charge of an acid with these pK. At pH 3.3 the acidity of 7 g/L is
// that of 0.0744 mol/L of tartaric acid, 11.2 g, of which 4.2 g are told by no titration.
func (k PKs) Holding(ta Acidity, ph PH) float64 {
	if !within(float64(ta), 0, 1000) || !within(float64(ph), 0, maxPH) {
		return math.NaN()
	}
	end, _ := k.charge(titrationEnd)
	now, _ := k.charge(ph)
	if end <= now {
		return 0
	}
	return max(0, float64(ta)/TartaricEquivalent-protons(ph)+protons(titrationEnd)) / (end - now)
}

// protons is the moles of free protons in a litre, less those of hydroxide.
func protons(ph PH) float64 {
	return math.Pow(10, -float64(ph)) - math.Pow(10, float64(ph)-14)
}

// AcidBalance is the weak acids in a litre of a must and the alkali that holds part of
// them as salts. It is a value; the zero AcidBalance is pure water.
//
// The pH is where charges add up:
//
//	alkali + [H+] − [OH−] = Σ c·z(pH)
//
// with c the moles of each acid and z its mean charge. Activities, and the salts that
// fall out later, are left aside.
//
// Acids have from 0 to 100 mol/L, alkali from -100 to 100, a pH is from 0 to 14. Of what
// is outside no balance can be made: its pH, its acidity and its buffer are NaN.
type AcidBalance struct {
	acids  []dissolvedAcid
	alkali float64 // moles of charge in a litre
}

type dissolvedAcid struct {
	pks   PKs
	moles float64
}

// Plus returns the balance with moles of an acid in each litre.
func (b AcidBalance) Plus(k PKs, moles float64) AcidBalance {
	b.acids = append(b.acids[:len(b.acids):len(b.acids)], dissolvedAcid{k, orNaN(moles, 0, mostMoles)})
	return b
}

// PlusAlkali returns the balance with moles of alkali in each litre, whose carbonic
// acid leaves as gas.
func (b AcidBalance) PlusAlkali(moles float64) AcidBalance {
	b.alkali += orNaN(moles, -mostMoles, mostMoles)
	return b
}

// At returns the balance with the alkali that brings it to a pH.
func (b AcidBalance) At(ph PH) AcidBalance {
	b.alkali += b.excess(PH(orNaN(float64(ph), 0, maxPH)))
	return b
}

// What a balance is made of: more than dissolves, and the ends of the scale.
const mostMoles, maxPH = 100, 14

func within(x, low, high float64) bool { return low <= x && x <= high }

// orNaN returns x, or NaN where it lies outside.
func orNaN(x, low, high float64) float64 {
	if !within(x, low, high) {
		return math.NaN()
	}
	return x
}

// excess is the moles of alkali by which the balance falls short of a pH.
func (b AcidBalance) excess(ph PH) float64 {
	short := -b.alkali - protons(ph)
	for _, a := range b.acids {
		z, _ := a.pks.charge(ph)
		short += a.moles * z
	}
	return short
}

// PH returns where the charges add up, within 1e-9, from 0 to 14.
func (b AcidBalance) PH() PH {
	if math.IsNaN(b.excess(0)) {
		return PH(math.NaN())
	}
	lo, hi := PH(0), PH(maxPH)
	for range 40 {
		if mid := (lo + hi) / 2; b.excess(mid) > 0 {
			hi = mid
		} else {
			lo = mid
		}
	}
	return (lo + hi) / 2
}

// Acidity returns the titratable acidity, to pH 8.2; 0 of what is past it.
func (b AcidBalance) Acidity() Acidity {
	return Acidity(max(0, TartaricEquivalent*b.excess(titrationEnd)))
}

// Buffer returns the moles of alkali that raise the pH of a litre by one, as steep as
// it is there.
//
// Source: the derivative of the balance, ln 10 · (Σ c·var z + [H+] + [OH−]). A grape
// must of pH 3.3 and 7 g/L has 0.053.
func (b AcidBalance) Buffer() float64 {
	ph := b.PH()
	sum := math.Pow(10, -float64(ph)) + math.Pow(10, float64(ph)-14)
	for _, a := range b.acids {
		_, variance := a.pks.charge(ph)
		sum += a.moles * variance
	}
	return math.Ln10 * sum
}
