package calc

import "math"

// Accuracy of a run of the model, as the error allowed in a step, in g/L of sugar.
const (
	uptakeFine   = 1e-6 // what a person is shown: within 0.001 g/L of ever finer steps
	uptakeCoarse = 2e-2 // for fitting: within 0.0001 in gravity
)

// uptakeStepper walks the model through time by the embedded Runge-Kutta pair 3(2)
// of Bogacki & Shampine (Appl. Math. Lett. 2 (1989) 321): the third order step is
// taken, the second order one says how far off it is. It keeps the last step, so
// that any time inside it can be read off.
type uptakeStepper struct {
	rates  uptakeRates
	allow  float64
	t, was float64 // hours at the end and the start of the last step
	step   float64 // the next step to try

	y, before     uptakeVector // state at t and at was
	slope, sloped uptakeVector // slopes there
}

// Bounds of a step in hours. Even a long one must not stride over the end of a lag.
const (
	uptakeFirstStep = 0.05
	uptakeMostHours = 24
	uptakeLeast     = 1e-6
)

func newUptakeStepper(r uptakeRates, y uptakeVector, allow float64) uptakeStepper {
	w := uptakeStepper{rates: r, allow: allow, step: uptakeFirstStep, y: y, before: y}
	w.rates.slope(0, &w.y, &w.slope)
	w.sloped = w.slope
	return w
}

// advance takes one step, as long as accuracy allows.
func (w *uptakeStepper) advance() {
	var k2, k3, k4, y uptakeVector
	k1 := &w.slope
	for {
		h := w.step
		for i := range y {
			y[i] = w.y[i] + h/2*k1[i]
		}
		w.rates.slope(w.t+h/2, &y, &k2)
		for i := range y {
			y[i] = w.y[i] + h*3/4*k2[i]
		}
		w.rates.slope(w.t+h*3/4, &y, &k3)
		for i := range y {
			y[i] = w.y[i] + h*(2*k1[i]+3*k2[i]+4*k3[i])/9
		}
		w.rates.slope(w.t+h, &y, &k4)
		off := 0.0
		for i := range y {
			e := h * (-5*k1[i] + 6*k2[i] + 8*k3[i] - 9*k4[i]) / 72
			off = max(off, math.Abs(e)/w.allowed(i, y[i]))
		}
		grow := 5.0
		if off > 0 {
			grow = min(5, max(0.2, 0.9/math.Cbrt(off)))
		}
		w.step = min(h*grow, uptakeMostHours)
		if off > 1 && h > uptakeLeast {
			continue
		}
		w.before, w.sloped, w.was = w.y, w.slope, w.t
		w.t += h
		w.y, w.slope = y, k4
		w.tidy()
		return
	}
}

// allowed returns the error that a step may make in component i of size y. Nitrogen
// counts in milligrams, since K_N is 9 mg/L.
func (w *uptakeStepper) allowed(i int, y float64) float64 {
	switch i {
	case upNitrogen:
		return w.allow * (1e-3 + math.Abs(y)*0.1)
	case upYeast:
		return w.allow * (1e-2 + math.Abs(y)*0.1)
	}
	return w.allow * (1 + math.Abs(y)*0.01)
}

// tidy puts to zero what is spent, so that the fast decay of a trace does not hold
// the steps short. Ethanol follows the sugars, so nothing is lost.
func (w *uptakeStepper) tidy() {
	trace := w.allow * 1e-2
	changed := false
	for i := range w.y {
		least := trace
		switch i {
		case upNitrogen:
			least = trace * 1e-2
		case upYeast:
			least = 0
		case upGlucose, upFructose:
			if w.y[upSucrose] > 0 {
				least = 0
			}
		}
		if w.y[i] <= least && w.y[i] != 0 {
			w.y[i] = 0
			changed = true
		}
	}
	if changed {
		w.rates.slope(w.t, &w.y, &w.slope)
	}
}

// at returns the state at t, inside the last step, by the cubic through its ends.
func (w *uptakeStepper) at(t float64) uptakeVector {
	h := w.t - w.was
	if h <= 0 || t >= w.t {
		return w.y
	}
	x := (t - w.was) / h
	a := (1 + 2*x) * (1 - x) * (1 - x)
	b := x * (1 - x) * (1 - x) * h
	c := x * x * (3 - 2*x)
	d := x * x * (x - 1) * h
	var y uptakeVector
	for i := range y {
		y[i] = max(0, a*w.before[i]+b*w.sloped[i]+c*w.y[i]+d*w.slope[i])
	}
	return y
}

// reach steps on until t is inside the last step and returns the state there.
func (w *uptakeStepper) reach(t float64) uptakeVector {
	for w.t < t {
		w.advance()
	}
	return w.at(t)
}
