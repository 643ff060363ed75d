package data

import (
	"encoding/json"
	"fmt"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// A bodyRecord is how entries of one kind lie on disk.
type bodyRecord struct {
	from func(model.Body) any
	to   func(json.RawMessage) (model.Body, error)
}

// recordOf returns the two ways between a body and its record.
func recordOf[B model.Body, R any](from func(B) R, to func(R) (B, error)) bodyRecord {
	return bodyRecord{
		from: func(body model.Body) any { return from(body.(B)) },
		to: func(raw json.RawMessage) (model.Body, error) {
			var r R
			if err := json.Unmarshal(raw, &r); err != nil {
				return nil, fmt.Errorf("%w: %w", ErrDamaged, err)
			}
			body, err := to(r)
			if err != nil {
				return nil, err
			}
			return body, nil
		},
	}
}

// bodyRecords holds every kind of entry; nothing changes it.
var bodyRecords = map[model.Kind]bodyRecord{
	model.KindMust: recordOf(fromMust, toMust),
	model.KindPitch: recordOf(func(b model.Pitch) pitchRecord {
		return pitchRecord{Yeast: string(b.Yeast), Name: b.Name, Tolerance: float64(b.Tolerance)}
	}, func(r pitchRecord) (model.Pitch, error) {
		return model.Pitch{Yeast: model.YeastGroup(r.Yeast), Name: r.Name, Tolerance: calc.PercentVol(r.Tolerance)}, nil
	}),
	model.KindReading: recordOf(fromReading, toReading),
	model.KindAddition: recordOf(func(b model.Addition) additionRecord {
		return additionRecord{Portion: fromPortion(b.Portion), Purpose: b.Purpose, Plan: uint64(b.Plan), Dose: b.Dose}
	}, func(r additionRecord) (model.Addition, error) {
		p, err := toPortion(r.Portion)
		return model.Addition{Portion: p, Purpose: r.Purpose, Plan: model.EntryID(r.Plan), Dose: r.Dose}, err
	}),
	model.KindRack: recordOf(func(b model.Rack) rackRecord {
		return rackRecord{To: uint64(b.To), Volume: float64(b.Volume)}
	}, func(r rackRecord) (model.Rack, error) {
		return model.Rack{To: model.VesselID(r.To), Volume: calc.Litre(r.Volume)}, nil
	}),
	model.KindBottle: recordOf(func(b model.Bottle) bottleRecord {
		return bottleRecord{Count: b.Count, Size: float64(b.Size), Rest: b.Rest, Closure: b.Closure}
	}, func(r bottleRecord) (model.Bottle, error) {
		return model.Bottle{Count: r.Count, Size: calc.Litre(r.Size), Rest: r.Rest, Closure: r.Closure}, nil
	}),
	model.KindStabilise: recordOf(func(b model.Stabilise) stabiliseRecord {
		return stabiliseRecord{Sulfite: float64(b.Sulfite), Sorbate: float64(b.Sorbate), Filtered: b.Filtered, PU: b.PU, Chilled: b.Chilled}
	}, func(r stabiliseRecord) (model.Stabilise, error) {
		return model.Stabilise{Sulfite: calc.Gram(r.Sulfite), Sorbate: calc.Gram(r.Sorbate), Filtered: r.Filtered, PU: r.PU, Chilled: r.Chilled}, nil
	}),
	model.KindBench:   recordOf(fromBench, toBench),
	model.KindTasting: recordOf(fromTasting, toTasting),
	model.KindNote: recordOf(func(b model.Note) noteRecord { return noteRecord{b.Text} },
		func(r noteRecord) (model.Note, error) { return model.Note{Text: r.Text}, nil }),
	model.KindVoid: recordOf(func(b model.Void) voidRecord {
		return voidRecord{Entry: uint64(b.Entry), Reason: b.Reason}
	}, func(r voidRecord) (model.Void, error) {
		return model.Void{Entry: model.EntryID(r.Entry), Reason: r.Reason}, nil
	}),
	model.KindFruit: recordOf(func(b model.Fruited) fruitedRecord { return fruitedRecord{fromFruit(b.Portion)} },
		func(r fruitedRecord) (model.Fruited, error) {
			p, err := toFruit(r.Portion)
			return model.Fruited{Portion: p}, err
		}),
	model.KindPress: recordOf(func(b model.Press) pressRecord { return pressRecord{float64(b.Volume)} },
		func(r pressRecord) (model.Press, error) { return model.Press{Volume: calc.Litre(r.Volume)}, nil }),
	model.KindFine: recordOf(func(b model.Fine) fineRecord { return fineRecord{b.Agent, float64(b.Mass)} },
		func(r fineRecord) (model.Fine, error) {
			return model.Fine{Agent: r.Agent, Mass: calc.Gram(r.Mass)}, nil
		}),
	model.KindStir: recordOf(func(model.Stir) stirRecord { return stirRecord{} },
		func(stirRecord) (model.Stir, error) { return model.Stir{}, nil }),
	model.KindMove: recordOf(func(b model.Move) moveRecord { return moveRecord{b.Place} },
		func(r moveRecord) (model.Move, error) { return model.Move{Place: r.Place}, nil }),
	model.KindPlan: recordOf(fromFeedPlan, toFeedPlan),
	model.KindFeed: recordOf(func(b model.Feed) feedRecord {
		return feedRecord{b.What, float64(b.Mass), float64(b.Nitrogen), uint64(b.Plan), b.Dose}
	}, func(r feedRecord) (model.Feed, error) {
		return model.Feed{What: r.What, Mass: calc.Gram(r.Mass), Nitrogen: calc.MilligramPerLitre(r.Nitrogen),
			Plan: model.EntryID(r.Plan), Dose: r.Dose}, nil
	}),
	model.KindDraw: recordOf(func(b model.Draw) drawRecord {
		return drawRecord{float64(b.Volume), uint64(b.To), b.Why}
	}, func(r drawRecord) (model.Draw, error) {
		return model.Draw{Volume: calc.Litre(r.Volume), To: model.BatchID(r.To), Why: r.Why}, nil
	}),
	model.KindPour: recordOf(func(b model.Pour) pourRecord {
		return pourRecord{uint64(b.From), b.Name, fromLiquid(b.Liquid), float64(b.Tolerance)}
	}, func(r pourRecord) (model.Pour, error) {
		l, err := toLiquid(r.Name, r.Grams)
		return model.Pour{From: model.BatchID(r.From), Name: r.Name, Liquid: l, Tolerance: calc.PercentVol(r.Tolerance)}, err
	}),
	model.KindPart: recordOf(func(b model.Part) partRecord {
		return partRecord{uint64(b.From), b.Name, uint64(b.Vessel), float64(b.Volume)}
	}, func(r partRecord) (model.Part, error) {
		return model.Part{From: model.BatchID(r.From), Name: r.Name, Vessel: model.VesselID(r.Vessel), Volume: calc.Litre(r.Volume)}, nil
	}),
	model.KindTaste: recordOf(fromTasted, toTasted),
	model.KindRemind: recordOf(func(b model.Reminder) reminderRecord {
		return reminderRecord{b.What, b.Due.UTC(), string(b.By)}
	}, func(r reminderRecord) (model.Reminder, error) {
		return model.Reminder{What: r.What, Due: r.Due, By: model.Kind(r.By)}, nil
	}),
	model.KindDistrust: recordOf(func(b model.Distrust) distrustRecord {
		return distrustRecord{b.From.UTC(), b.To.UTC(), b.Reason}
	}, func(r distrustRecord) (model.Distrust, error) {
		return model.Distrust{From: r.From, To: r.To, Reason: r.Reason}, nil
	}),
	model.KindTick: recordOf(func(b model.Tick) tickRecord { return tickRecord{b.Due, b.Until.UTC(), b.Words} },
		func(r tickRecord) (model.Tick, error) {
			return model.Tick{Due: r.Due, Until: r.Until, Words: r.Words}, nil
		}),
}

// fromBody returns the record of what an entry says.
func fromBody(body model.Body) (any, error) {
	r, known := bodyRecords[body.Kind()]
	if !known {
		return nil, fmt.Errorf("an entry of kind %q has no record", body.Kind())
	}
	return r.from(body), nil
}

// toBody returns what the record of an entry of that kind says.
func toBody(kind model.Kind, raw json.RawMessage) (model.Body, error) {
	r, known := bodyRecords[kind]
	if !known {
		return nil, fmt.Errorf("%w: an entry of unknown kind %q", ErrDamaged, kind)
	}
	return r.to(raw)
}

func fromMust(m model.Must) mustRecord {
	r := mustRecord{Vessel: uint64(m.Vessel), Volume: float64(m.Volume), Gravity: float64(m.Gravity)}
	for _, p := range m.Ingredients {
		r.Ingredients = append(r.Ingredients, fromPortion(p))
	}
	for _, p := range m.Fruit {
		r.Fruit = append(r.Fruit, fromFruit(p))
	}
	return r
}

func toMust(r mustRecord) (model.Must, error) {
	m := model.Must{Vessel: model.VesselID(r.Vessel), Volume: calc.Litre(r.Volume), Gravity: calc.SG(r.Gravity)}
	for _, pr := range r.Ingredients {
		p, err := toPortion(pr)
		if err != nil {
			return m, err
		}
		m.Ingredients = append(m.Ingredients, p)
	}
	for _, fr := range r.Fruit {
		p, err := toFruit(fr)
		if err != nil {
			return m, err
		}
		m.Fruit = append(m.Fruit, p)
	}
	return m, nil
}

func fromReading(b model.Reading) readingRecord {
	r := readingRecord{Gravity: float64(b.Gravity), Scale: string(b.Scale), Calibration: float64(b.Calibration), PH: b.PH, Note: b.Note,
		Acid: float64(b.Acid), Mass: float64(b.Mass), Level: float64(b.Level)}
	if b.HasTemperature {
		t := float64(b.Temperature)
		r.Temperature = &t
	}
	if b.HasFreeSO2 {
		free := float64(b.FreeSO2)
		r.FreeSO2 = &free
	}
	return r
}

func toReading(r readingRecord) (model.Reading, error) {
	out := model.Reading{Gravity: calc.SG(r.Gravity), Scale: model.GravityScale(r.Scale),
		Calibration: calc.Celsius(r.Calibration), PH: r.PH, Note: r.Note,
		Acid: calc.GramPerLitre(r.Acid), Mass: calc.Gram(r.Mass), Level: calc.Litre(r.Level)}
	if r.FreeSO2 != nil {
		out.HasFreeSO2, out.FreeSO2 = true, calc.MilligramPerLitre(*r.FreeSO2)
	}
	if r.Temperature != nil {
		out.HasTemperature, out.Temperature = true, calc.Celsius(*r.Temperature)
	}
	return out, nil
}
