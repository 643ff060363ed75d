package calc

import "math"

// Places of the uptake model's state, all in g/L. Ethanol is not among them: it
// follows from the hexose that has gone, so mass cannot leak.
const (
	upSucrose = iota
	upGlucose
	upFructose
	upMaltose
	upMaltotriose
	upNitrogen
	upYeast
	upCount
)

// uptakeVector is the state of the model, or its slope.
type uptakeVector [upCount]float64

// hexose returns the hexose in the sugars that are left, in g/L.
func (y *uptakeVector) hexose() float64 {
	return y[upGlucose] + y[upFructose] +
		hexosePerDisaccharide*(y[upSucrose]+y[upMaltose]) + hexosePerMaltotriose*y[upMaltotriose]
}

// uptakeRates is the model with everything worked out that does not change while it
// runs.
type uptakeRates struct {
	growth, uptake, death, invertase float64 // per hour, at this temperature
	kN, perYield                     float64 // K_N and 1/Y_XN
	kG, kF                           float64 // 1/K_G, 1/K_F
	kM, kR                           float64 // 1/K_M, 1/K_R
	rM, rR                           float64
	kr2                              float64
	kInv                             float64
	lag                              float64 // e^h0 − 1, at the start
	ethanol0, hexose0                float64
	perHexose                        float64 // ethanol yield
	perTolerance                     float64 // 1/E_tol
	exponent                         float64
}

// newUptakeRates prepares p for a run from y with ethanol g/L of alcohol, with
// nitrogen g N/L in the must at first and work of the lag still to do.
func newUptakeRates(p *UptakeParameters, y *uptakeVector, ethanol, nitrogen, work float64) uptakeRates {
	t := float64(p.Temperature)
	return uptakeRates{
		growth:       uptakeGrowthRate(t),
		uptake:       p.RateScale * math.Exp(-2.382+0.0771*t),
		death:        p.DeathShare * math.Exp(-9.81-0.108*t+0.00478*t*t),
		invertase:    p.InvertaseRate * math.Exp(0.0771*(t-20)) * uptakeHot(t),
		kN:           p.KNitrogen,
		perYield:     1 / yeastPerNitrogen(nitrogen),
		kG:           1 / p.KGlucose,
		kF:           1 / p.KFructose,
		kM:           1 / p.KMaltose,
		kR:           1 / p.KMaltotriose,
		rM:           p.MaltoseRate,
		rR:           p.MaltotrioseRate,
		kr2:          p.KRepression * p.KRepression,
		kInv:         p.KInvertase,
		lag:          math.Expm1(work),
		ethanol0:     ethanol,
		hexose0:      y.hexose(),
		perHexose:    p.Yield.Ethanol,
		perTolerance: 1 / (float64(p.Tolerance) / 100 * ethanolDensityPure20),
		exponent:     p.EthanolExponent,
	}
}

// awake returns A = q/(1+q), the share of the lag that is over at t hours.
func (r *uptakeRates) awake(t float64) float64 { return 1 / (1 + r.lag*math.Exp(-r.growth*t)) }

// ethanol returns the alcohol in g/L in state y.
func (r *uptakeRates) ethanol(y *uptakeVector) float64 {
	return r.ethanol0 + r.perHexose*(r.hexose0-y.hexose())
}

// slope sets d to the rates of change at t hours in state y; see [UptakeParameters].
func (r *uptakeRates) slope(t float64, y, d *uptakeVector) {
	s, g, f, m, z := max(0, y[upSucrose]), max(0, y[upGlucose]), max(0, y[upFructose]), max(0, y[upMaltose]), max(0, y[upMaltotriose])
	n, x := max(0, y[upNitrogen]), max(0, y[upYeast])
	awake := r.awake(t)
	e := r.ethanol(y)
	u := max(0, 1-e*r.perTolerance)
	brake := u
	if r.exponent != 1 {
		brake = math.Pow(u, r.exponent)
	}

	grow := r.growth * n / (r.kN + n) * awake * u
	d[upNitrogen] = -grow * x * r.perYield
	d[upYeast] = (grow - r.death*e) * x

	c := r.uptake * x * brake * awake
	g1, f1 := g*r.kG, f*r.kF
	d1 := c / (1 + g1 + f1)
	vG, vF := g1*d1, f1*d1
	var vM, vR, inv float64
	if m+z > 0 {
		free := g + f
		m1, z1 := m*r.kM, z*r.kR
		d2 := c * r.kr2 / (r.kr2 + free*free) / (1 + m1 + z1)
		vM, vR = r.rM*m1*d2, r.rR*z1*d2
	}
	if s > 0 {
		inv = r.invertase * x * awake * s / (r.kInv + s)
	}
	d[upSucrose] = -inv
	d[upGlucose] = hexosePerDisaccharide/2*inv - vG
	d[upFructose] = hexosePerDisaccharide/2*inv - vF
	d[upMaltose] = -vM
	d[upMaltotriose] = -vR
}
