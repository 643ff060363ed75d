package data

import (
	"bytes"
	"encoding/json"
	"fmt"

	"go.etcd.io/bbolt"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// plansBucket holds the plans that people keep: batch id, name -> planRecord. It is
// made with the first of them, so that a cellar from before there were plans needs no
// migration; a program from then does not look at it.
var plansBucket = []byte("plans")

type planRecord struct {
	Name       string            `json:"name"`
	Candidates []candidateRecord `json:"candidates"`
}

type candidateRecord struct {
	First  plannedRecord  `json:"first"`
	Second *plannedRecord `json:"second,omitempty"`
	Share  float64        `json:"share,omitempty"`
	Mass   float64        `json:"mass_g,omitempty"`
	Aim    string         `json:"aim,omitempty"` // in words that model.ParseAim understands
}

// plannedRecord is a sweetener of the handbook, and what it was made of then.
type plannedRecord struct {
	ID         string        `json:"id"`
	Ingredient portionRecord `json:"ingredient"`
}

// Plans returns the plans kept for a batch, by name.
func (s *Store) Plans(id model.BatchID) ([]model.Plan, error) {
	var plans []model.Plan
	err := s.file.view(func(tx *bbolt.Tx) error {
		plans = nil
		b := tx.Bucket(plansBucket)
		if b == nil {
			return nil
		}
		prefix := idKey(uint64(id))
		c := b.Cursor()
		for k, v := c.Seek(prefix); bytes.HasPrefix(k, prefix); k, v = c.Next() {
			var r planRecord
			if err := unmarshal(plansBucket, k, v, &r); err != nil {
				return err
			}
			p, err := toPlan(r)
			if err != nil {
				return fmt.Errorf("%w: plan %q: %w", ErrDamaged, r.Name, err)
			}
			plans = append(plans, p)
		}
		return nil
	})
	return plans, err
}

// KeepPlan keeps a plan for a batch; one of the same name is replaced.
func (s *Store) KeepPlan(id model.BatchID, p model.Plan) error {
	if err := p.Validate(); err != nil {
		return err
	}
	return s.file.update(func(tx *bbolt.Tx) error {
		var batch batchRecord
		ok, err := getRecord(tx, batchesBucket, idKey(uint64(id)), &batch)
		if err == nil && !ok {
			err = fmt.Errorf("no batch has the number %d: %w", id, model.ErrInvalid)
		}
		if err != nil {
			return err
		}
		b, err := tx.CreateBucketIfNotExists(plansBucket)
		if err != nil {
			return err
		}
		record, err := json.Marshal(fromPlan(p))
		if err != nil {
			return err
		}
		return b.Put(planKey(id, p.Name), record)
	})
}

// DropPlan discards the plan of that name without trace. There need not be one.
func (s *Store) DropPlan(id model.BatchID, name string) error {
	return s.file.update(func(tx *bbolt.Tx) error {
		b := tx.Bucket(plansBucket)
		if b == nil {
			return nil
		}
		return b.Delete(planKey(id, name))
	})
}

func planKey(id model.BatchID, name string) []byte { return append(idKey(uint64(id)), name...) }

func fromPlan(p model.Plan) planRecord {
	r := planRecord{Name: p.Name}
	for _, c := range p.Candidates {
		cr := candidateRecord{First: fromPlanned(c.First), Aim: c.Aim.Text}
		if c.Aim.Target == nil {
			cr.Mass = float64(c.Aim.Mass)
		}
		if c.Mixed() {
			second := fromPlanned(c.Second)
			cr.Second, cr.Share = &second, c.Share
		}
		r.Candidates = append(r.Candidates, cr)
	}
	return r
}

func fromPlanned(s model.Sweetener) plannedRecord {
	return plannedRecord{ID: s.ID, Ingredient: fromPortion(model.Portion{Ingredient: s.Ingredient})}
}

func toPlan(r planRecord) (model.Plan, error) {
	p := model.Plan{Name: r.Name}
	for _, cr := range r.Candidates {
		c := model.Candidate{Share: 0.5, Aim: model.Aim{Mass: calc.Gram(cr.Mass)}}
		var err error
		if c.First, err = toPlanned(cr.First); err != nil {
			return p, err
		}
		if cr.Second != nil {
			c.Share = cr.Share
			if c.Second, err = toPlanned(*cr.Second); err != nil {
				return p, err
			}
		}
		if cr.Aim != "" {
			if c.Aim, err = model.ParseAim(cr.Aim); err != nil {
				return p, err
			}
		}
		p.Candidates = append(p.Candidates, c)
	}
	return p, nil
}

func toPlanned(r plannedRecord) (model.Sweetener, error) {
	p, err := toPortion(r.Ingredient)
	return model.Sweetener{ID: r.ID, Ingredient: p.Ingredient}, err
}
