package calc

import (
	"fmt"
	"math"
)

// Yield says what the yeast makes of one gram of hexose. What is neither
// ethanol, carbon dioxide nor glycerol becomes yeast and settles out of the
// liquid. Theory (Gay-Lussac) would be 0.5114 ethanol and 0.4886 CO2.
type Yield struct {
	Ethanol  float64 // g ethanol per g hexose
	CO2      float64 // g carbon dioxide per g hexose
	Glycerol float64 // g glycerol that stays in the drink, per g hexose
}

// ethanolToCO2 is the carbon dioxide that leaves with each gram of ethanol:
// Balling 1865 has 0.9565 g, the mole ratio 44.010/46.069 is 0.9553.
const ethanolToCO2 = 0.9565

// WortYield is Balling's: 2.0665 g of extract give 1 g of ethanol, 0.9565 g of
// CO2 and 0.11 g of yeast. Balling's extract is mostly maltose, so a gram of it
// is 1.0526 g of hexose: 1/(2.0665·1.0526) = 0.4597. The real extract he
// measured holds the glycerol, so none is added here.
func WortYield() Yield {
	const e = 1 / (ballingExtractPerEthanol * hexosePerDisaccharide)
	return Yield{Ethanol: e, CO2: e * ethanolToCO2}
}

// MustYield is for sugar, honey and fruit: 0.475 g ethanol and 0.023 g glycerol
// per g hexose. The glycerol is the share measured per gram of glucose in a 2021
// survey of by-products; the ethanol is fitted with it to washes of measured
// strength from 1.10 to 1.13 run dry, on which the ledger lands within 0.25 % vol
// (0.484 without glycerol does as well, but then takes the glycerol of a dry
// drink for 6 g/L of sugar left). The spread between this and WortYield is part
// of the uncertainty of a strength.
//
// The gas is 0.465 g per g hexose (kinetics notes, section 5): 0.454 with the ethanol
// by Balling's share, and the rest with by-products. Of four musts of 200 g/L that were
// weighed dry (Leale et al. 2023) three had lost 0.465 to 0.470 with the gas that they
// held, and one a good deal more.
func MustYield() Yield {
	return Yield{Ethanol: 0.475, CO2: 0.465, Glycerol: 0.023}
}

// Fermentation is how the yeast works through the sugars of a liquid: the yield,
// and what this yeast cannot do.
type Fermentation struct {
	Yield Yield

	// LeavesMaltotriose is set for a yeast that cannot take maltotriose up.
	LeavesMaltotriose bool
}

// Fermented is a stretch of fermentation: what it left and what it took.
// Before = Liquid + CO2 + Yeast, in grams, to rounding.
type Fermented struct {
	Liquid Liquid
	Hexose Gram // eaten, in hexose
	CO2    Gram // left as gas
	Yeast  Gram // settled out

	// BeyondFermentable is the part of Hexose that came from what the ledger
	// had taken for unfermentable: the must held more sugar than assumed.
	BeyondFermentable Gram
}

// Constants of the uptake order: which sugar goes at which relative rate. From
// the recommended model of the kinetics notes, the same as the uptake
// simulation uses; only ratios of rates matter here, so time, temperature and
// yeast mass drop out.
//
//   - hexose carriers: Monod constants of glucose (Coleman, Fish & Block 2007,
//     from memory) and fructose, their ratio 1.9 computed from two agave musts;
//   - maltose and maltotriose rates relative to hexose, and their Monod
//     constants (transporter literature, from memory);
//   - free hexose at which maltose uptake is halved, Hill exponent 2: set so
//     that uptake is half when 60 % of 10 g/L glucose is gone;
//   - invertase: grams of sucrose split for each gram of hexose that could be
//     eaten at full rate, at 20 °C, and its Monod constant. It works outside the
//     cell, so what slows the yeast, little free sugar or much alcohol, lets it
//     get further ahead. Alcohol slows uptake in a straight line to none at a wine
//     yeast's usual 14.5 % vol.
const (
	uptakeKGlucose     = 10.3
	uptakeKFructose    = 19.6
	uptakeRMaltose     = 0.8
	uptakeRMaltotriose = 0.4
	uptakeKMaltose     = 1.7
	uptakeKMaltotriose = 5.0
	uptakeKRepression  = 4.0
	uptakeEndsAt       = 14.5 / 100 * ethanolDensityPure20 // g/L ethanol
	inversionRate      = 3.56
	inversionKSucrose  = 9.0
)

// slowestUptake bounds how far invertase can get ahead. Splitting a gram of sucrose
// adds 0.053 g of extract and so raises gravity by a twenty-second of what eating a
// gram of hexose lowers it by; with at most 3.56/0.25 = 14 g split for each gram
// eaten, gravity always falls, and a reading has one answer.
const slowestUptake = 0.25

// uptakeSteps is how many steps a whole fermentation is walked in. At equal ethanol
// the sugars left are then within 0.2 g/L of the check tables of the kinetics notes,
// and within 10 g/L while a wash of 280 g/L sucrose is being split; gravity and
// strength, which hang on the total, do not notice.
const uptakeSteps = 96

// tooLittleSugar is a mass in grams that is not worth fermenting.
const tooLittleSugar = 1e-12

// Run ferments the given mass of hexose out of l, in uptake order: sucrose is
// split first, glucose goes before fructose, maltose waits for both,
// maltotriose comes last. Sugar that runs out ends it early, so Hexose of the
// result can be less than asked. A negative amount is an error.
func (f Fermentation) Run(l Liquid, hexose Gram) (Fermented, error) {
	if err := inRange("hexose to ferment", float64(hexose), 0, maxGrams, " g"); err != nil {
		return Fermented{}, err
	}
	v, err := l.Volume()
	if err != nil {
		return Fermented{}, fmt.Errorf("ferment: %w", err)
	}
	w := walk{rule: f, volume: float64(v), at: Fermented{Liquid: l}}
	for left := float64(hexose); left > 0; {
		step := min(left, w.stepSize(l))
		if step <= 0 {
			break
		}
		before := w.at.Hexose
		w.at = w.next(step)
		got := float64(w.at.Hexose - before)
		if got <= 0 {
			break
		}
		left -= got
	}
	return w.at, nil
}

// walk is a fermentation under way.
type walk struct {
	rule   Fermentation
	volume float64
	at     Fermented
}

// reachable returns the hexose that this yeast could still take.
func (w *walk) reachable() float64 {
	h := float64(w.at.Liquid.Hexose())
	if w.rule.LeavesMaltotriose {
		h -= w.at.Liquid.grams[Maltotriose] * hexosePerMaltotriose
	}
	return h
}

// stepSize returns the next step of a walk that started from l, never more than
// there is; 0 when there is none.
func (w *walk) stepSize(l Liquid) float64 {
	left := w.reachable()
	if left < tooLittleSugar {
		return 0
	}
	return min(float64(l.Hexose())/uptakeSteps, left)
}

// next returns the state after a further step grams of hexose, which must be
// there. The step is made at the rates half-way through it.
func (w *walk) next(step float64) Fermented {
	at := w.at
	if left := w.reachable(); step >= left*(1-1e-9) {
		at.Liquid = w.allSugarTaken(at.Liquid)
		return at.gain(left, w.rule.Yield)
	}
	middle := at.Liquid
	rates := w.ratesIn(&middle)
	w.eat(&middle, step/2, &rates)
	rates = w.ratesIn(&middle)
	return at.gain(w.eat(&at.Liquid, step, &rates), w.rule.Yield)
}

// allSugarTaken removes every sugar the yeast can use, and the water that
// splitting them takes up.
func (w *walk) allSugarTaken(l Liquid) Liquid {
	for c := Sucrose; c <= Maltotriose; c++ {
		if c == Maltotriose && w.rule.LeavesMaltotriose {
			continue
		}
		l.grams[Water] -= l.grams[c] * (traits[c].hexose - 1)
		l.grams[c] = 0
	}
	return l
}

// takenUp are the sugars that enter the yeast as they are.
var takenUp = [...]Component{Glucose, Fructose, Maltose, Maltotriose}

// rates say where the next hexose comes from.
type rates struct {
	uptake    [len(takenUp)]float64 // relative, in hexose
	inversion float64               // g sucrose split per g hexose eaten, at most
}

func (w *walk) ratesIn(l *Liquid) rates {
	g, f := l.grams[Glucose]/w.volume, l.grams[Fructose]/w.volume
	m, t := l.grams[Maltose]/w.volume, l.grams[Maltotriose]/w.volume
	if w.rule.LeavesMaltotriose {
		t = 0
	}
	d1 := 1 + g/uptakeKGlucose + f/uptakeKFructose
	free := (g + f) * (g + f)
	held := uptakeKRepression * uptakeKRepression / (uptakeKRepression*uptakeKRepression + free)
	d2 := 1 + m/uptakeKMaltose + t/uptakeKMaltotriose
	r := rates{uptake: [...]float64{
		g / uptakeKGlucose / d1,
		f / uptakeKFructose / d1,
		hexosePerDisaccharide * uptakeRMaltose * held * m / uptakeKMaltose / d2,
		hexosePerMaltotriose * uptakeRMaltotriose * held * t / uptakeKMaltotriose / d2,
	}}
	uptake := r.uptake[0] + r.uptake[1] + r.uptake[2] + r.uptake[3]
	alcohol := l.grams[Ethanol] / w.volume / uptakeEndsAt
	r.inversion = inversionRate / max(uptake*(1-alcohol), slowestUptake)
	return r
}

// eat removes step grams of hexose from l and returns what it got. What a sugar
// that has run out cannot give is shared among the others, sucrose last.
func (w *walk) eat(l *Liquid, step float64, r *rates) (got float64) {
	invert(l, w.volume*sucroseSplit(l.grams[Sucrose]/w.volume, r.inversion*step/w.volume))
	want := step
	for range takenUp {
		sum := 0.0
		for i, c := range takenUp {
			if l.grams[c] > 0 {
				sum += r.uptake[i]
			}
		}
		if sum == 0 || want <= 0 {
			break
		}
		short := 0.0
		for i, c := range takenUp {
			if l.grams[c] > 0 {
				short += take(l, c, want*r.uptake[i]/sum)
			}
		}
		want = short
	}
	for _, c := range [...]Component{Glucose, Fructose, Sucrose, Maltose, Maltotriose} {
		if want > 0 && !(c == Maltotriose && w.rule.LeavesMaltotriose) {
			want = take(l, c, want) // sugar so new, or so nearly gone, that it has no rate
		}
	}
	return step - want
}

// sucroseSplit returns how much of s g/L of sucrose goes when invertase could at
// full rate split most g/L: the implicit mid-point of dS = -most·S/(K + S), which
// stays right when most is far more than there is.
func sucroseSplit(s, most float64) float64 {
	if s == 0 {
		return 0
	}
	b := inversionKSucrose - s + most/2
	middle := 2 * inversionKSucrose * s / (b + math.Sqrt(b*b+4*inversionKSucrose*s))
	return max(0, min(s, 2*(s-middle)))
}

// invert splits mass grams of sucrose into equal parts of glucose and fructose.
func invert(l *Liquid, mass float64) {
	mass = min(mass, l.grams[Sucrose])
	l.grams[Sucrose] -= mass
	l.grams[Water] -= mass * (hexosePerDisaccharide - 1)
	l.grams[Glucose] += mass * hexosePerDisaccharide / 2
	l.grams[Fructose] += mass * hexosePerDisaccharide / 2
}

// take removes as much of the sugar c as makes hexose grams of it, with the water
// that splitting takes up, and returns how much it is short of.
func take(l *Liquid, c Component, hexose float64) (short float64) {
	mass := min(hexose/traits[c].hexose, l.grams[c])
	l.grams[c] -= mass
	l.grams[Water] -= mass * (traits[c].hexose - 1)
	if l.grams[c] > 0 {
		return 0
	}
	return max(0, hexose-mass*traits[c].hexose)
}

// gain books what hexose grams became.
func (at Fermented) gain(hexose float64, y Yield) Fermented {
	at.Liquid.grams[Ethanol] += hexose * y.Ethanol
	at.Liquid.grams[Glycerol] += hexose * y.Glycerol
	at.Hexose += Gram(hexose)
	at.CO2 += Gram(hexose * y.CO2)
	at.Yeast += Gram(hexose * (1 - y.Ethanol - y.CO2 - y.Glycerol))
	return at
}

// UpTo returns the hexose that yeast can ferment out of l before it reaches a
// tolerance: all there is, or what brings the strength to it within 0.01 % vol. A
// tolerance of zero or less is none.
func (f Fermentation) UpTo(l Liquid, tolerance PercentVol) Gram {
	w := walk{rule: f, at: Fermented{Liquid: l}}
	all := w.reachable()
	v, err := l.Volume()
	if err != nil || !(tolerance > 0) || !(f.Yield.Ethanol > 0) {
		return Gram(all)
	}
	hexose := all
	for range 3 { // the drink shrinks by about 0.06 mL for each gram
		room := float64(tolerance)/100*ethanolDensityPure20*float64(v) - l.grams[Ethanol]
		hexose = max(0, min(all, room/f.Yield.Ethanol))
		done, err := f.Run(l, Gram(hexose))
		if err != nil {
			break
		}
		if v, err = done.Liquid.Volume(); err != nil {
			break
		}
	}
	return Gram(hexose)
}
