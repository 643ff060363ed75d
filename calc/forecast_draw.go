package calc

import (
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// Drawing from the posterior.
const (
	forecastDraws = 320
	drawTails     = 6    // degrees of freedom of what is drawn from, wider than the posterior
	drawWider     = 1.25 // and its variance
	drawSeed      = 1790 // fixed, so that equal readings give equal forecasts
)

// cloud is a multivariate Student's t about a mode, a little wider than the posterior.
type cloud struct {
	middle    fitVector
	curvature *mat.SymDense
	upper     mat.TriDense // its Cholesky factor
	logDet    float64
	share     float64 // of all draws
}

// clouds returns one for each mode whose curvature is sound, with shares by the mass
// of the posterior under each.
func clouds(modes []mode) []cloud {
	var all []cloud
	sum := 0.0
	for _, o := range modes {
		var chol mat.Cholesky
		if !chol.Factorize(o.curvature) {
			continue
		}
		c := cloud{middle: o.at, curvature: o.curvature, logDet: chol.LogDet()}
		chol.UTo(&c.upper)
		c.share = math.Exp(o.loge - modes[0].loge - c.logDet/2)
		sum += c.share
		all = append(all, c)
	}
	for i := range all {
		all[i].share /= sum
	}
	return all
}

// pick returns a draw: normal, over the root of a chi-squared of drawTails degrees.
func (c *cloud) pick(r *rand.Rand) fitVector {
	chi := 0.0
	for range drawTails {
		n := r.NormFloat64()
		chi += n * n
	}
	scale := math.Sqrt(drawWider * drawTails / chi)
	var z fitVector
	for i := fitCount - 1; i >= 0; i-- { // upper · z = normal
		z[i] = r.NormFloat64()
		for j := i + 1; j < fitCount; j++ {
			z[i] -= c.upper.At(i, j) * z[j]
		}
		z[i] /= c.upper.At(i, i)
	}
	for i := range z {
		z[i] = c.middle[i] + scale*z[i]
	}
	return z
}

// density returns the density at z, but for a factor common to all clouds.
func (c *cloud) density(z *fitVector) float64 {
	square := 0.0
	for i := range z {
		for j := range z {
			square += (z[i] - c.middle[i]) * c.curvature.At(i, j) * (z[j] - c.middle[j])
		}
	}
	return c.share * math.Exp(c.logDet/2-(drawTails+fitCount)/2.0*math.Log1p(square/drawWider/drawTails))
}

// draw returns courses drawn about the modes, weighted so that they stand for the
// posterior: the density there over the density they were drawn with.
func (m *forecastModel) draw(modes []mode) draws {
	random := rand.New(rand.NewPCG(drawSeed, drawSeed))
	from := clouds(modes)
	d := draws{curve: make([][]float64, len(m.times))}
	var logs []float64
	var f fit
	for i := range from {
		for range int(math.Ceil(forecastDraws * from[i].share)) {
			z := from[i].pick(random)
			if !possible(&z) {
				continue
			}
			density := 0.0
			for k := range from {
				density += from[k].density(&z)
			}
			m.compare(&f, &z)
			end := m.buffer.final()
			logs = append(logs, f.loge-math.Log(density))
			d.final = append(d.final, end.sg)
			d.finish = append(d.finish, end.finish)
			for k, t := range m.times {
				d.curve[k] = append(d.curve[k], m.buffer.at(float64(t)))
			}
		}
	}
	d.weight = tamed(logs)
	return d
}

// tamed returns weights from their logarithms, none above √n times the mean, so that
// no single draw speaks for all (Ionides, J. Comput. Graph. Stat. 17 (2008) 295).
func tamed(logs []float64) []float64 {
	w := make([]float64, len(logs))
	if len(w) == 0 {
		return w
	}
	top := slices.Max(logs)
	sum := 0.0
	for i, l := range logs {
		w[i] = math.Exp(l - top)
		sum += w[i]
	}
	most := sum / float64(len(w)) * math.Sqrt(float64(len(w)))
	for i := range w {
		w[i] = math.Min(w[i], most)
	}
	return w
}
