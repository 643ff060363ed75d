package cli_test

import (
	"slices"

	"cellar.local/glassrow/model"
)

func (m *memory) Plans(id model.BatchID) ([]model.Plan, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	return slices.Clone(m.plans[id]), nil
}

func (m *memory) KeepPlan(id model.BatchID, p model.Plan) error {
	if err := p.Validate(); err != nil {
		return err
	}
	if err := m.DropPlan(id, p.Name); err != nil {
		return err
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.plans == nil {
		m.plans = make(map[model.BatchID][]model.Plan)
	}
	m.plans[id] = append(m.plans[id], p)
	return nil
}

func (m *memory) DropPlan(id model.BatchID, name string) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.plans == nil {
		return nil
	}
	m.plans[id] = slices.DeleteFunc(m.plans[id], func(p model.Plan) bool { return p.Name == name })
	return nil
}
