package calc

// quickCurve is a polynomial of fourth degree through five points of a smooth
// function, for the inner loop of the forecast: a few nanoseconds where the solver
// behind [sucroseRelative20] takes two hundred.
type quickCurve struct{ x, c [5]float64 }

// newQuickCurve passes through f at the points where a polynomial strays least
// between lo and hi.
func newQuickCurve(f func(float64) float64, lo, hi float64) quickCurve {
	// Chebyshev's nodes for five points: cos of 18, 54, 90, 126, 162 degrees.
	var q quickCurve
	for i, n := range [5]float64{-0.951056516, -0.587785252, 0, 0.587785252, 0.951056516} {
		q.x[i] = (lo+hi)/2 + n*(hi-lo)/2
		q.c[i] = f(q.x[i])
	}
	for k := 1; k < len(q.c); k++ { // divided differences, in place
		for i := len(q.c) - 1; i >= k; i-- {
			q.c[i] = (q.c[i] - q.c[i-1]) / (q.x[i] - q.x[i-k])
		}
	}
	return q
}

func (q *quickCurve) at(x float64) float64 {
	return q.c[0] + (x-q.x[0])*(q.c[1]+(x-q.x[1])*(q.c[2]+(x-q.x[2])*(q.c[3]+(x-q.x[3])*q.c[4])))
}

// quickGravity is the ledger's gravity, good to 0.00002 for up to 450 g/L of extract
// and 200 g/L of ethanol.
type quickGravity struct{ sucrose, ethanol quickCurve }

func newQuickGravity() quickGravity {
	return quickGravity{
		sucrose: newQuickCurve(sucroseRelative20, -20, 450),
		ethanol: newQuickCurve(ethanolRelative20, 0, 200),
	}
}

// of returns the gravity of what was a litre of must and holds so many grams now.
// Volume and gravity settle each other; a round leaves a tenth of what was off.
func (q *quickGravity) of(mass, ethanol, extract float64) float64 {
	perVolume := 1.0
	sg := 1.0
	for range 4 {
		sg = q.ethanol.at(ethanol*perVolume) + q.sucrose.at(extract*perVolume) - 1
		perVolume = sg * waterDensity20 / mass
	}
	return sg
}
