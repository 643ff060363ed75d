package data

import (
	"encoding/json"
	"fmt"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// fromBody returns the record of what an entry says.
func fromBody(body model.Body) (any, error) {
	switch b := body.(type) {
	case model.Must:
		r := mustRecord{Vessel: uint64(b.Vessel), Volume: float64(b.Volume), Gravity: float64(b.Gravity)}
		for _, p := range b.Ingredients {
			r.Ingredients = append(r.Ingredients, fromPortion(p))
		}
		for _, p := range b.Fruit {
			r.Fruit = append(r.Fruit, fromFruit(p))
		}
		return r, nil
	case model.Pitch:
		return pitchRecord{Yeast: string(b.Yeast), Name: b.Name, Tolerance: float64(b.Tolerance)}, nil
	case model.Reading:
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
		return r, nil
	case model.Addition:
		return additionRecord{Portion: fromPortion(b.Portion), Purpose: b.Purpose, Plan: uint64(b.Plan), Dose: b.Dose}, nil
	case model.Rack:
		return rackRecord{To: uint64(b.To), Volume: float64(b.Volume)}, nil
	case model.Bottle:
		return bottleRecord{Count: b.Count, Size: float64(b.Size), Rest: b.Rest, Closure: b.Closure}, nil
	case model.Stabilise:
		return stabiliseRecord{Sulfite: float64(b.Sulfite), Sorbate: float64(b.Sorbate), Filtered: b.Filtered, PU: b.PU, Chilled: b.Chilled}, nil
	case model.Bench:
		return fromBench(b), nil
	case model.Tasting:
		return fromTasting(b), nil
	case model.Note:
		return noteRecord{b.Text}, nil
	case model.Void:
		return voidRecord{Entry: uint64(b.Entry), Reason: b.Reason}, nil
	}
	if r, ok := fromLaterBody(body); ok {
		return r, nil
	}
	return nil, fmt.Errorf("an entry of kind %q has no record", body.Kind())
}

// toBody returns what the record of an entry of that kind says.
func toBody(kind model.Kind, raw json.RawMessage) (model.Body, error) {
	switch kind {
	case model.KindMust:
		return decoded(raw, toMust)
	case model.KindPitch:
		return decoded(raw, func(r pitchRecord) (model.Body, error) {
			return model.Pitch{Yeast: model.YeastGroup(r.Yeast), Name: r.Name, Tolerance: calc.PercentVol(r.Tolerance)}, nil
		})
	case model.KindReading:
		return decoded(raw, toReading)
	case model.KindAddition:
		return decoded(raw, func(r additionRecord) (model.Body, error) {
			p, err := toPortion(r.Portion)
			return model.Addition{Portion: p, Purpose: r.Purpose, Plan: model.EntryID(r.Plan), Dose: r.Dose}, err
		})
	case model.KindRack:
		return decoded(raw, func(r rackRecord) (model.Body, error) {
			return model.Rack{To: model.VesselID(r.To), Volume: calc.Litre(r.Volume)}, nil
		})
	case model.KindBottle:
		return decoded(raw, func(r bottleRecord) (model.Body, error) {
			return model.Bottle{Count: r.Count, Size: calc.Litre(r.Size), Rest: r.Rest, Closure: r.Closure}, nil
		})
	case model.KindStabilise:
		return decoded(raw, func(r stabiliseRecord) (model.Body, error) {
			return model.Stabilise{Sulfite: calc.Gram(r.Sulfite), Sorbate: calc.Gram(r.Sorbate), Filtered: r.Filtered, PU: r.PU, Chilled: r.Chilled}, nil
		})
	case model.KindBench:
		return decoded(raw, toBench)
	case model.KindTasting:
		return decoded(raw, toTasting)
	case model.KindNote:
		return decoded(raw, func(r noteRecord) (model.Body, error) { return model.Note{Text: r.Text}, nil })
	case model.KindVoid:
		return decoded(raw, func(r voidRecord) (model.Body, error) {
			return model.Void{Entry: model.EntryID(r.Entry), Reason: r.Reason}, nil
		})
	}
	if read, ok := laterBodies()[kind]; ok {
		return read(raw)
	}
	return nil, fmt.Errorf("%w: an entry of unknown kind %q", ErrDamaged, kind)
}

// decoded reads a record and turns it into a body.
func decoded[R any](raw json.RawMessage, to func(R) (model.Body, error)) (model.Body, error) {
	var r R
	if err := json.Unmarshal(raw, &r); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrDamaged, err)
	}
	return to(r)
}

func toMust(r mustRecord) (model.Body, error) {
	m := model.Must{Vessel: model.VesselID(r.Vessel), Volume: calc.Litre(r.Volume), Gravity: calc.SG(r.Gravity)}
	for _, pr := range r.Ingredients {
		p, err := toPortion(pr)
		if err != nil {
			return nil, err
		}
		m.Ingredients = append(m.Ingredients, p)
	}
	for _, fr := range r.Fruit {
		p, err := toFruit(fr)
		if err != nil {
			return nil, err
		}
		m.Fruit = append(m.Fruit, p)
	}
	return m, nil
}

func toReading(r readingRecord) (model.Body, error) {
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
