package cli_test

import (
	"cmp"
	"slices"

	"cellar.local/glassrow/model"
)

func (m *memory) Recipes() ([]model.Recipe, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	return slices.Clone(m.recipes), nil
}

func (m *memory) KeepRecipe(r model.Recipe) error {
	if err := r.Validate(); err != nil {
		return err
	}
	if err := m.DropRecipe(r.Name); err != nil {
		return err
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	m.recipes = append(m.recipes, r)
	slices.SortFunc(m.recipes, func(a, b model.Recipe) int { return cmp.Compare(a.Name, b.Name) })
	return nil
}

func (m *memory) DropRecipe(name string) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.recipes = slices.DeleteFunc(m.recipes, func(r model.Recipe) bool { return r.Name == name })
	return nil
}
