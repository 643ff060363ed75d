package data

import (
	"fmt"
	"math/rand/v2"
	"time"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// Demo returns an invented cellar to look around in: Tern Point boathouse, twelve
// vessels, twelve batches and one split off another, from a must made on the last
// evening to bottles of last year. Vessels and batches are numbered from 1.
//
// It is the same cellar for the same now, and a day later everything in it
// happened a day later. Nothing lies after now. The drinks are fermented by the
// formulas of package calc and then read as a person would, with an unsteady hand
// and a hydrometer with lines on it.
func Demo(now time.Time) (model.Settings, []model.Vessel, []model.Batch, error) {
	settings := model.Settings{CellarName: "Tern Point boathouse", Calibration: calc.CalibratedAt20C}
	var handbook model.Larder
	var err error
	if handbook.Sweeteners, err = Sweeteners(); err != nil {
		return settings, nil, nil, err
	}
	if handbook.Fruits, err = Fruits(); err != nil {
		return settings, nil, nil, err
	}
	days := diaryUpTo(now)
	vessels := demoVessels(days)
	stock, err := newPantry(handbook)
	if err != nil {
		return settings, nil, nil, err
	}
	batches := make([]model.Batch, 0, len(vessels)+1)
	var parts []model.Batch
	for i, r := range demoRecipes() {
		b := newBrew(r, i, days, vessels, stock)
		if err := b.make(); err != nil {
			return settings, nil, nil, fmt.Errorf("demo cellar, %s: %w", r.name, err)
		}
		batches = append(batches, b.batch)
		for _, part := range b.parts {
			parts = append(parts, part.batch)
		}
	}
	return settings, vessels, append(batches, parts...), nil
}

// demoSeed fixes every unsteady hand in the demo cellar.
const demoSeed = 19

// demoRecipes lists the batches in the order they stand on the shelves.
func demoRecipes() []recipe {
	return []recipe{
		heatherMead(), windfallPerry(), seaBuckthornMead(), blackcurrantMelomel(), beetrootWine(), damsonWine(),
		oatStout(), plumWine(), elderflowerSparkling(), brownAle(), buckwheatMead(), quinceWine(),
	}
}

func demoVessels(days diary) []model.Vessel {
	const north, south = "north shelf", "south shelf"
	vessels := []model.Vessel{
		{Label: "N1", Kind: model.Carboy, Capacity: 23, Place: north, Tare: 6400},
		{Label: "N2", Kind: model.Carboy, Capacity: 23, Place: north, Tare: 6350},
		{Label: "N3", Kind: model.Demijohn, Capacity: 5, Place: north, Tare: 1480},
		{Label: "N4", Kind: model.Carboy, Capacity: 11.5, Place: north, Tare: 3900},
		{Label: "N5", Kind: model.Demijohn, Capacity: 5, Place: north, Tare: 1510},
		{Label: "N6", Kind: model.Bucket, Capacity: 15, Place: "under the north shelf", Tare: 820},
		{Label: "S1", Kind: model.Carboy, Capacity: 11.5, Place: south, Tare: 3950},
		{Label: "S2", Kind: model.Bucket, Capacity: 27, Place: "by the stove", Tare: 1350},
		{Label: "S3", Kind: model.Demijohn, Capacity: 5, Place: south, Tare: 1490},
		{Label: "S4", Kind: model.Bucket, Capacity: 15, Place: south, Tare: 820},
		{Label: "K1", Kind: model.Keg, Capacity: 19, Place: "cold corner, seaward wall", Tare: 4300},
		{Label: "B1", Kind: model.Barrel, Capacity: 20, Place: "cradle under the loft stairs", Tare: 8900},
	}
	for i := range vessels {
		vessels[i].ID = model.VesselID(i + 1)
		vessels[i].Added = days.at(cellarOpened, 0, 0)
	}
	return vessels
}

// cellarOpened is how many evenings ago the vessels were carried in.
const cellarOpened = 600

// diary says when things happened in the demo cellar. Its owner looks after the
// vessels in the evening, sometimes in the early morning too.
type diary struct{ lastEvening time.Time }

// diaryUpTo returns the diary whose last evening's work was over, at twenty past
// eight, by now.
func diaryUpTo(now time.Time) diary {
	y, m, d := now.Date()
	if now.Before(time.Date(y, m, d, 20, 20, 0, 0, now.Location())) {
		d--
	}
	return diary{time.Date(y, m, d, 0, 0, 0, 0, now.Location())}
}

// at returns the time of the nth thing done with the vessel of a slot, so many
// evenings ago; 2.5 is the morning of the evening 2. It is a multiple of five
// minutes, the same for the same arguments.
func (d diary) at(ago float64, slot, nth int) time.Time {
	day := int(ago)
	mood := rand.New(rand.NewPCG(demoSeed, uint64(day))).IntN(7) // some evenings start late
	hour, minute := 18, 10+5*(mood+slot+nth)
	if float64(day) != ago {
		hour, minute = 6, 30+5*(mood+slot/2+nth)
	}
	e := d.lastEvening
	return time.Date(e.Year(), e.Month(), e.Day()-day, hour, minute, 0, 0, e.Location())
}
