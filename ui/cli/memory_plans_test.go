package cli_test

import "cellar.local/glassrow/model"

// Plans belong to the dashboard; the commands keep none.

func (m *memory) Plans(model.BatchID) ([]model.Plan, error) { return nil, nil }
func (m *memory) KeepPlan(model.BatchID, model.Plan) error  { return nil }
func (m *memory) DropPlan(model.BatchID, string) error      { return nil }
