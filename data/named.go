package data

import (
	"encoding/json"
	"fmt"

	"cellar.local/glassrow/model"
)

// What an entry names besides itself: vessels, batches, an entry that it strikes out.

// withNumbers returns a body with other numbers for the vessels and batches it names.
func withNumbers(body model.Body, vessel func(model.VesselID) model.VesselID, batch func(model.BatchID) model.BatchID) model.Body {
	switch b := body.(type) {
	case model.Must:
		b.Vessel = vessel(b.Vessel)
		return b
	case model.Rack:
		b.To = vessel(b.To)
		return b
	case model.Part:
		b.From, b.Vessel = batch(b.From), vessel(b.Vessel)
		return b
	case model.Draw:
		b.To = batch(b.To)
		return b
	case model.Pour:
		b.From = batch(b.From)
		return b
	}
	return body
}

// namedIn returns the vessel and the batch that a body names; 0 for none.
func namedIn(body model.Body) (vessel model.VesselID, batch model.BatchID) {
	withNumbers(body, func(id model.VesselID) model.VesselID {
		vessel = id
		return id
	}, func(id model.BatchID) model.BatchID {
		batch = id
		return id
	})
	return vessel, batch
}

// notBefore reports an error when an entry strikes out one that is not before it.
func notBefore(id model.EntryID, body model.Body) error {
	if v, ok := body.(model.Void); ok && v.Entry >= id {
		return fmt.Errorf("there is no entry %d before it to strike out", v.Entry)
	}
	return nil
}

// bodyJSON returns the record of a body as it lies on disk.
func bodyJSON(body model.Body) ([]byte, error) {
	record, err := fromBody(body)
	if err != nil {
		return nil, err
	}
	return json.Marshal(record)
}
