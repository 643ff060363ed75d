package ui

import "cellar.local/glassrow/ui/words"

// hazard says in plain words what can burst; empty when nothing is near it.
func (p fizzPane) hazard(say words.Words) string {
	if p.err != nil {
		return ""
	}
	return say.FizzHazard(p.plan, p.fizz, p.kept)
}
