package words

import (
	"fmt"
	"strings"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// FizzHazard says in plain words what can burst when a plan for bubbles is carried out;
// empty when nothing is near it. kept is whether the yeast would leave it alone.
func (w Words) FizzHazard(p model.FizzPlan, f model.Fizz, kept calc.Assessment) string {
	still := p.Container.Still
	box, _, _ := strings.Cut(p.Container.Name, ",")
	by, held := kept.Held()
	most := w.Pressure(f.Warm.Highest())
	switch {
	case p.Route == model.ByKeg && f.Judgement.Verdict == calc.Danger:
		return fmt.Sprintf("DANGER: warm, a %s would be at %s. Keep it cold, or take fewer bubbles, and see that its valve works.", box, most)
	case p.Route == model.ByKeg && still:
		return fmt.Sprintf("DANGER: gas under pressure belongs in a keg with a working valve. A %s bursts.", box)
	case p.Route == model.ByKeg:
		return ""
	case held:
		return w.fizzHeld(p, f, by, box)
	case still && f.Judgement.Verdict == calc.Danger:
		return fmt.Sprintf("DANGER: DO NOT CLOSE THIS IN. Living yeast and sugar in a closed %s make up to %s, and %s. It was made for no pressure at all: it bursts, and the glass flies. Take bottles made for pressure, or stabilise it and leave it still.", box, most, w.whyAlive(kept))
	case p.Route == model.ByHeat && f.InBath.Verdict == calc.Danger:
		return fmt.Sprintf("DANGER: in the bath the bottles would be at %s, more than a %s may hold. Hot bottles burst in the hand. Take fewer bubbles or stronger bottles, or go by priming.", w.Pressure(f.Bath.Highest()), box)
	case p.Route == model.ByHeat && f.Judgement.Verdict == calc.Danger:
		return fmt.Sprintf("DANGER if forgotten: unheated, all of the sugar would make %s, and a %s bursts. Open the test bottle every day, heat every bottle the day it is ready, lids on the pot, goggles and gloves on.", most, box)
	case f.Judgement.Verdict == calc.Danger:
		return fmt.Sprintf("DANGER: with %s of sugar in it already it can reach %.1f volumes and %s, more than a %s may hold. It can burst. Let it ferment out, or sweeten with what yeast leaves.",
			w.PerLitre(f.Held), float64(f.Warm.Volumes()), most, box)
	case f.Judgement.Verdict == calc.Caution:
		return fmt.Sprintf("Near what a %s may hold: keep it cool, in a closed crate, and open one now and then.", box)
	}
	return ""
}

// fizzHeld says of a drink that its yeast leaves alone what holds it, and what that
// means for the bubbles.
func (w Words) fizzHeld(p model.FizzPlan, f model.Fizz, held calc.Finding, box string) string {
	by := w.StabilityReason(held.Reason)
	sure := ""
	if held.Worth < calc.StabilitySafe {
		sure = " That is one thing short of sure: open a bottle now and then."
	}
	switch p.Route {
	case model.ByPriming:
		return "Nothing will ferment the priming sugar: " + by + "." + sure + " It would stay flat and only grow sweeter. For bubbles press the gas in, in a cold keg."
	case model.ByHeat:
		return "Nothing will ferment this, so no bubbles will come: " + by + "." + sure
	}
	return fmt.Sprintf("Its %s of sugar should stay sugar in a %s: %s.%s", w.PerLitre(f.Held), box, by, sure)
}

// whyAlive says why the yeast would take the sugar.
func (w Words) whyAlive(kept calc.Assessment) string {
	for _, f := range kept.Findings {
		if text := w.StabilityReason(f.Reason); text != "" {
			return text
		}
	}
	return "nothing keeps the yeast from it"
}
