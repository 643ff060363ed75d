package calc

import "math"

// Hour is a span of time, or a time since the pitch or the last event, in hours.
type Hour float64

// YAN is nitrogen that yeast can use, in milligrams of N per litre of must.
type YAN float64

// UptakeParameters is everything the uptake simulation knows of a yeast and its
// surroundings. [TypicalUptake] fills it with the recommended values; a caller
// changes what it knows better.
//
// The model is the nitrogen-limited growth of Coleman, Fish & Block (2007) with the
// uptake of five sugars on top. With X the active yeast, N the nitrogen, E the
// ethanol in g/L, A the share of the lag that is over, and u = max(0, 1 − E/E_tol):
//
//	dX/dt = (µ − k_d·E)·X,  µ = µmax·N/(K_N + N)·A·u,  dN/dt = −µ·X/Y_XN
//	c     = Q·X·u^n·A
//	v_G   = c·(G/K_G)/D1,  v_F = c·(F/K_F)/D1,  D1 = 1 + G/K_G + F/K_F
//	v_M   = c·r_M·H·(M/K_M)/D2,  v_R = c·r_R·H·(R/K_R)/D2,  D2 = 1 + M/K_M + R/K_R
//	H     = K_r²/(K_r² + (G+F)²)
//	v_inv = V_inv·X·A·S/(K_inv + S)     outside the cell
//	A     = q/(1+q),  dq/dt = µmax·q,  q(0) = 1/(e^h0 − 1)
//
// Sugar that is eaten is accounted for by [Yield], so mass is conserved. The
// yeast can stop short: at its tolerance, for want of nitrogen, from heat, or with
// fructose left. Source: kinetics notes, section 3; a synthesis of the works named
// at the fields, not a published model as a whole.
type UptakeParameters struct {
	// Temperature of the liquid, 0 to 45 °C. Growth µmax = exp(−3.92 + 0.0782·T) and
	// uptake Q = exp(−2.382 + 0.0771·T), death exp(−9.81 − 0.108·T + 0.00478·T²):
	// Coleman, Fish & Block 2007, fitted from 11 to 35 °C (transcribed); growth falls
	// from 32 to none at 45.4 °C (Salvado et al. 2011; the straight line is a choice).
	Temperature Celsius

	// Nitrogen at the start, 0 to 2000 mg N/L.
	Nitrogen YAN

	// Tolerance is the strength at which the yeast stops, 1 to 30 % vol. Uptake falls
	// in a straight line towards it when EthanolExponent is 1.
	Tolerance PercentVol

	// Pitch is the active yeast at the start, 1e-4 to 20 g/L; see [PitchOfCells]. 0.25
	// if unknown (kinetics notes).
	Pitch GramPerLitre

	// RateScale is s, the pace of this yeast in this must against the typical one.
	// 1.3, fitted to measured ferments from 0.29 to 2.5; poor nutrients 0.3 to 0.8.
	RateScale float64

	// LagWork is h0 of the Baranyi form: the lag lasts h0/µmax. 1.2, fitted from 0.3
	// to 3; 0 is yeast at full activity.
	LagWork float64

	// EthanolExponent is n: 1 is the straight line of the alcohol's braking (best of
	// 0.5, 1, 1.5, 2 on dextrose washes). Musts that run dry prefer 0.5.
	EthanolExponent float64

	// DeathShare is δ, the share of Coleman's death rate that is left when tolerance
	// already acts: 0.25, best of 0 to 0.5 with n = 1.
	DeathShare float64

	// KNitrogen is K_N in g N/L: 0.00883 (Coleman, from memory; Cramer 2002 has 0.01).
	KNitrogen float64

	// KGlucose and KFructose are the affinities of the hexose carriers, in g/L: 10.3
	// (K_S of Coleman, from memory) and 19.6; the ratio 1.9 is what two agave musts
	// show (Valle et al. 2024). A fructose-loving yeast has 1.0 to 1.3 times K_G.
	KGlucose, KFructose float64

	// MaltoseRate and MaltotrioseRate are uptake against hexose, 0.8 and 0.4 (a
	// choice); 0 for a yeast that cannot take the sugar up.
	MaltoseRate, MaltotrioseRate float64

	// KMaltose and KMaltotriose are affinities in g/L: 1.7 (5 mM) and 5.0 (10 mM), from
	// the transporter literature (from memory).
	KMaltose, KMaltotriose float64

	// KRepression is K_r, the free hexose in g/L that halves maltose uptake: 4, so that
	// uptake starts when about 60 % of the wort's glucose has gone (Food Biochemistry
	// and Food Processing, 2nd ed., ch. 33).
	KRepression float64

	// InvertaseRate is V_inv at 20 °C in g sucrose per g yeast and hour, 2.0 (a choice),
	// and KInvertase its affinity in g/L, 9.0 (26 mM, from memory).
	InvertaseRate, KInvertase float64

	// Yield is what becomes of the hexose, in the ledger and in the alcohol that brakes
	// the yeast.
	Yield Yield
}

// TypicalUptake returns the recommended parameters for a must at t with yan of
// usable nitrogen and a yeast that stands tolerance, pitched at an unknown rate.
func TypicalUptake(t Celsius, yan YAN, tolerance PercentVol) UptakeParameters {
	return UptakeParameters{
		Temperature:     t,
		Nitrogen:        yan,
		Tolerance:       tolerance,
		Pitch:           0.25,
		RateScale:       1.3,
		LagWork:         1.2,
		EthanolExponent: 1,
		DeathShare:      0.25,
		KNitrogen:       0.00883,
		KGlucose:        uptakeKGlucose,
		KFructose:       uptakeKFructose,
		MaltoseRate:     uptakeRMaltose,
		MaltotrioseRate: uptakeRMaltotriose,
		KMaltose:        uptakeKMaltose,
		KMaltotriose:    uptakeKMaltotriose,
		KRepression:     uptakeKRepression,
		InvertaseRate:   2,
		KInvertase:      inversionKSucrose,
		Yield:           MustYield(),
	}
}

// FructoseLoving returns p with a yeast that takes fructose up nearly as readily as
// glucose: K_F = 1.15·K_G, the middle of the range of the kinetics notes (a choice;
// strains with the carrier of Guillaume et al. 2007).
func (p UptakeParameters) FructoseLoving() UptakeParameters {
	p.KFructose = 1.15 * p.KGlucose
	return p
}

// PitchOfCells returns the active yeast of a pitch of cells million per millilitre:
// 0.04 g/L a million, at 4e-11 g a cell (Coleman, Fish & Block 2007).
func PitchOfCells(millionPerMillilitre float64) GramPerLitre {
	return GramPerLitre(0.04 * millionPerMillilitre)
}

// Lag returns how long the yeast takes to settle in, h0/µmax: 12.7 h at 20 °C with
// the typical h0 of 1.2. Where it is too hot to grow there is no end to it.
func (p UptakeParameters) Lag() Hour {
	return Hour(p.LagWork / uptakeGrowthRate(float64(p.Temperature)))
}

// Validate returns an error that wraps [ErrOutOfRange] or [ErrNotANumber] when a
// parameter lies where the model was never tried.
func (p UptakeParameters) Validate() error {
	for _, c := range []struct {
		what   string
		x      float64
		lo, hi float64
		unit   string
	}{
		{"temperature", float64(p.Temperature), 0, 45, " °C"},
		{"nitrogen", float64(p.Nitrogen), 0, 2000, " mg/L"},
		{"tolerance", float64(p.Tolerance), 1, 30, " % vol"},
		{"pitch", float64(p.Pitch), 1e-4, 20, " g/L"},
		{"rate scale", p.RateScale, 0.001, 20, ""},
		{"lag work", p.LagWork, 0, 20, ""},
		{"ethanol exponent", p.EthanolExponent, 0.25, 4, ""},
		{"death share", p.DeathShare, 0, 4, ""},
		{"affinity for nitrogen", p.KNitrogen, 1e-4, 1, " g/L"},
		{"affinity for glucose", p.KGlucose, 0.1, 1000, " g/L"},
		{"affinity for fructose", p.KFructose, 0.1, 1000, " g/L"},
		{"maltose rate", p.MaltoseRate, 0, 10, ""},
		{"maltotriose rate", p.MaltotrioseRate, 0, 10, ""},
		{"affinity for maltose", p.KMaltose, 0.1, 1000, " g/L"},
		{"affinity for maltotriose", p.KMaltotriose, 0.1, 1000, " g/L"},
		{"repression", p.KRepression, 0.1, 1000, " g/L"},
		{"invertase rate", p.InvertaseRate, 0, 100, " g/g/h"},
		{"affinity of invertase", p.KInvertase, 0.1, 1000, " g/L"},
		{"ethanol yield", p.Yield.Ethanol, 0, maxEthanolYield, ""},
		{"carbon dioxide yield", p.Yield.CO2, 0, 1, ""},
		{"glycerol yield", p.Yield.Glycerol, 0, 1, ""},
		{"sum of yields", p.Yield.Ethanol + p.Yield.CO2 + p.Yield.Glycerol, 0, 1, ""},
	} {
		if err := inRange(c.what, c.x, c.lo, c.hi, c.unit); err != nil {
			return err
		}
	}
	return nil
}

// maxEthanolYield is Gay-Lussac's: two molecules of ethanol (46.069 g/mol) from one
// of hexose (180.156).
const maxEthanolYield = 2 * 46.069 / molarMassHexose

// Where growth gives way to heat, in °C: the optimum and the maximum of
// S. cerevisiae (Salvado et al. 2011, rounded to 32 and 45.4).
const (
	uptakeHotFrom = 32.0
	uptakeHotTo   = 45.4
)

// uptakeHot returns the share of growth that heat leaves.
func uptakeHot(t float64) float64 {
	if t <= uptakeHotFrom {
		return 1
	}
	return max(0, (uptakeHotTo-t)/(uptakeHotTo-uptakeHotFrom))
}

// uptakeGrowthRate returns µmax in 1/h at t °C.
func uptakeGrowthRate(t float64) float64 { return math.Exp(-3.92+0.0782*t) * uptakeHot(t) }

// yeastPerNitrogen returns Y_XN in g/g for a must that starts with n g N/L: the richer,
// the less yeast a gram makes (Coleman, from memory). Beyond 0.277 g/L the printed
// line would make less yeast in all, so it is held there.
func yeastPerNitrogen(n float64) float64 { return math.Exp(3.50 - 3.61*min(n, 0.277)) }
