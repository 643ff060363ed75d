package calc

import "fmt"

// InFullSwing returns l with all the yeast that its nitrogen can have made, and the
// lag over: what to expect of a batch whose past is not known.
func (p UptakeParameters) InFullSwing(l Liquid) Uptake {
	n := float64(p.Nitrogen) / 1000
	return Uptake{
		Liquid:        l,
		Yeast:         p.Pitch + GramPerLitre(n*yeastPerNitrogen(n)),
		FirstNitrogen: p.Nitrogen,
	}
}

// ExpectedRate returns how fast the gravity should be changing at that moment, in a
// day; a fall is negative. A measured slope well short of it is a slow batch.
//
// Gravity comes from the ledger, a minute apart. Errors as of [UptakeParameters.Run].
func (p UptakeParameters) ExpectedRate(at Uptake) (SGPerDay, error) {
	const minute = Hour(1.0 / 60)
	rows, err := p.Run(at, 0, minute)
	if err != nil {
		return 0, fmt.Errorf("expected rate: %w", err)
	}
	return SGPerDay(float64(rows[1].Figures.SG-rows[0].Figures.SG) * float64(hoursPerDay/minute)), nil
}
