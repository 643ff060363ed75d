package data

import (
	"fmt"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// What is fed by a plan in the demo cellar, and what passes between two batches. The
// entries are those that the program would write.

// plans writes down doses to come.
func plans(doses ...model.Meal) act {
	return func(b *brew) (model.Body, error) {
		b.plan = model.EntryID(len(b.batch.Entries) + 1)
		return model.FeedPlan{Doses: doses}, nil
	}
}

// feeds gives a dose of the plan, counted from 1.
func feeds(dose int) act {
	return func(b *brew) (model.Body, error) {
		food, err := NitrogenSources()
		if err != nil {
			return nil, err
		}
		return b.batch.Fulfil(fmt.Sprintf("%s:%d:%d", model.DueFeed, b.plan, dose), b.at, food), nil
	}
}

// The deeds of the demo cellar that touch two batches.
const (
	deedSplit = iota + 1
	deedTopUp
)

// splitsOff takes some of the batch into a vessel as a batch of its own, which goes on
// by its own recipe. slot is its place in the round.
func splitsOff(volume calc.Litre, r recipe, slot int) act {
	return func(b *brew) (model.Body, error) {
		to, err := b.vesselLabelled(r.vessel)
		if err != nil {
			return nil, err
		}
		writings, err := model.Split(b.batch, r.name, to, volume, b.at, b.at)
		if err != nil {
			return nil, err
		}
		part := newBrew(r, slot, b.days, b.vessels, b.pantry)
		part.at, part.pace, part.woken, part.recipe.read = b.at, b.pace, b.woken, b.recipe.read
		split := writings[0].New.Entries
		part.batch.Entries = split[:len(split)-1]
		part.writeIn(deedSplit, split[len(split)-1].Body)
		if part.liquid, err = b.gives(volume); err != nil {
			return nil, err
		}
		part.fillAgenda()
		b.parts = append(b.parts, part)
		drawn := writings[1].Entries[0].Body.(model.Draw)
		drawn.To = part.batch.ID
		b.writeIn(deedSplit, drawn)
		return nil, nil
	}
}

// gives takes some of the drink out of the vessel and returns it.
func (b *brew) gives(volume calc.Litre) (calc.Liquid, error) {
	have, err := b.liquid.Volume()
	share := float64(volume / have)
	out := b.liquid.Scaled(share)
	b.liquid = b.liquid.Scaled(1 - share)
	return out, err
}

// topsUpFromPart pours some of the part back.
func topsUpFromPart(volume calc.Litre) act {
	return func(b *brew) (model.Body, error) {
		part := b.parts[0]
		if err := part.until(b.at); err != nil {
			return nil, err
		}
		if err := part.fermentUntil(b.at); err != nil {
			return nil, err
		}
		writings, err := model.PourOver(part.batch, b.batch, volume, b.at, b.at)
		if err != nil {
			return nil, err
		}
		poured, err := part.gives(volume)
		if err != nil {
			return nil, err
		}
		b.liquid = b.liquid.Plus(poured)
		b.writeIn(deedTopUp, writings[0].Entries[0].Body)
		part.writeIn(deedTopUp, writings[1].Entries[0].Body)
		return nil, nil
	}
}
