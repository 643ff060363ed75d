package data

import (
	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

func fromBench(b model.Bench) benchRecord {
	r := benchRecord{Glass: float64(b.Glass), Syrup: float64(b.Syrup), Seed: b.Seed}
	for _, p := range b.Poured {
		r.Poured = append(r.Poured, fromPortion(p))
	}
	return r
}

func toBench(r benchRecord) (model.Bench, error) {
	b := model.Bench{Glass: calc.Litre(r.Glass), Syrup: calc.GramPerLitre(r.Syrup), Seed: r.Seed}
	for _, pr := range r.Poured {
		p, err := toPortion(pr)
		if err != nil {
			return b, err
		}
		b.Poured = append(b.Poured, p)
	}
	return b, nil
}

func fromTasting(t model.Tasting) tastingRecord {
	r := tastingRecord{Bench: uint64(t.Bench)}
	for _, g := range t.Glasses {
		taste := tasteRecord{Words: g.Words}
		if g.Marked {
			taste.Mark = &g.Mark
		}
		r.Glasses = append(r.Glasses, taste)
	}
	return r
}

func toTasting(r tastingRecord) (model.Tasting, error) {
	t := model.Tasting{Bench: model.EntryID(r.Bench)}
	for _, g := range r.Glasses {
		taste := model.Taste{Words: g.Words}
		if g.Mark != nil {
			taste.Marked, taste.Mark = true, *g.Mark
		}
		t.Glasses = append(t.Glasses, taste)
	}
	return t, nil
}
