package calc

import "fmt"

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
func MustYield() Yield {
	const e = 0.475
	return Yield{Ethanol: e, CO2: e * ethanolToCO2, Glycerol: 0.023}
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
//     eaten at full rate, at 20 °C, and its Monod constant.
const (
	uptakeKGlucose     = 10.3
	uptakeKFructose    = 19.6
	uptakeRMaltose     = 0.8
	uptakeRMaltotriose = 0.4
	uptakeKMaltose     = 1.7
	uptakeKMaltotriose = 5.0
	uptakeKRepression  = 4.0
	inversionRate      = 3.56
	inversionKSucrose  = 9.0
)

// uptakeSteps is how many steps a whole fermentation is walked in. The split
// between the sugars is then within 0.5 g/L of a walk with ten times the steps;
// gravity and strength, which hang on the total, do not notice.
const uptakeSteps = 96

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
		w.at = w.next(step)
		left -= step
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
func (w walk) reachable() float64 {
	h := float64(w.at.Liquid.Hexose())
	if w.rule.LeavesMaltotriose {
		h -= w.at.Liquid.grams[Maltotriose] * hexosePerMaltotriose
	}
	return h
}

// stepSize returns the next step of a walk that started from l, never more than
// there is.
func (w walk) stepSize(l Liquid) float64 {
	return min(float64(l.Hexose())/uptakeSteps, w.reachable())
}

// next returns the state after a further step grams of hexose, which must be
// there.
func (w walk) next(step float64) Fermented {
	at := w.at
	if left := w.reachable(); step >= left*(1-1e-9) {
		step = left
		at.Liquid = w.allSugarTaken(at.Liquid)
		return at.gain(step, w.rule.Yield)
	}
	splitSucrose(&at.Liquid, step, w.volume)
	return at.gain(w.take(&at.Liquid, step), w.rule.Yield)
}

// allSugarTaken removes every sugar the yeast can use, and the water that
// splitting them takes up.
func (w walk) allSugarTaken(l Liquid) Liquid {
	for c := Sucrose; c <= Maltotriose; c++ {
		if c == Maltotriose && w.rule.LeavesMaltotriose {
			continue
		}
		l.grams[Water] -= l.grams[c] * (traits[c].hexose - 1)
		l.grams[c] = 0
	}
	return l
}

// splitSucrose inverts sucrose into equal parts of glucose and fructose, at the
// pace of the invertase while step grams of hexose are eaten.
func splitSucrose(l *Liquid, step, volume float64) {
	sucrose := l.grams[Sucrose]
	if sucrose == 0 {
		return
	}
	perLitre := sucrose / volume
	split := min(sucrose, inversionRate*step*perLitre/(inversionKSucrose+perLitre))
	l.grams[Sucrose] -= split
	l.grams[Water] -= split * (hexosePerDisaccharide - 1)
	l.grams[Glucose] += split * hexosePerDisaccharide / 2
	l.grams[Fructose] += split * hexosePerDisaccharide / 2
}

// take removes step grams of hexose from the free sugars, shared out by their
// uptake rates, and returns what it got. Where a share is more than there is,
// the rest is shared again.
func (w walk) take(l *Liquid, step float64) (taken float64) {
	want := step
	for range 8 {
		rates, sum := w.rates(l)
		if sum == 0 || want <= 0 {
			break
		}
		left := 0.0
		for i, c := range [...]Component{Glucose, Fructose, Maltose, Maltotriose} {
			share := want * rates[i] / sum
			have := l.grams[c] * traits[c].hexose
			if share > have {
				left += share - have
				share = have
			}
			mass := share / traits[c].hexose
			l.grams[c] = max(0, l.grams[c]-mass)
			l.grams[Water] -= share - mass
		}
		want = left
	}
	if want > 0 && l.grams[Sucrose] > 0 { // free sugar gone: straight from sucrose
		mass := min(l.grams[Sucrose], want/hexosePerDisaccharide)
		l.grams[Sucrose] -= mass
		l.grams[Water] -= mass * (hexosePerDisaccharide - 1)
		want -= mass * hexosePerDisaccharide
	}
	return step - want
}

// rates returns the relative uptake, in hexose, of glucose, fructose, maltose
// and maltotriose, and their sum.
func (w walk) rates(l *Liquid) (r [4]float64, sum float64) {
	g, f := l.grams[Glucose]/w.volume, l.grams[Fructose]/w.volume
	m, t := l.grams[Maltose]/w.volume, l.grams[Maltotriose]/w.volume
	if w.rule.LeavesMaltotriose {
		t = 0
	}
	d1 := 1 + g/uptakeKGlucose + f/uptakeKFructose
	free := (g + f) * (g + f)
	held := uptakeKRepression * uptakeKRepression / (uptakeKRepression*uptakeKRepression + free)
	d2 := 1 + m/uptakeKMaltose + t/uptakeKMaltotriose
	r = [4]float64{
		g / uptakeKGlucose / d1,
		f / uptakeKFructose / d1,
		hexosePerDisaccharide * uptakeRMaltose * held * m / uptakeKMaltose / d2,
		hexosePerMaltotriose * uptakeRMaltotriose * held * t / uptakeKMaltotriose / d2,
	}
	return r, r[0] + r[1] + r[2] + r[3]
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
