package calc

import "testing"

// Ensure that people find a row by any of its names, however they type it.
func TestFind(t *testing.T) {
	type row struct{ Listed }
	rows := []row{
		{Listed: Listed{ID: "citric", Name: "citric acid, anhydrous", Aliases: []string{"citric acid"}}},
		{Listed: Listed{ID: "citric_monohydrate", Name: "citric acid monohydrate"}},
	}
	for word, want := range map[string]string{
		"citric": "citric", "CITRIC  Acid": "citric", " citric-acid ": "citric", "citric_acid": "citric",
		"Citric Monohydrate": "citric_monohydrate", "citric acid monohydrate": "citric_monohydrate",
		"citr": "", "": "", " - ": "",
	} {
		got, found := Find(rows, word)
		if got.ID != want || found != (want != "") {
			t.Errorf("Find(%q) = %q, %v, want %q", word, got.ID, found, want)
		}
	}
	if _, found := Find([]row{{}}, ""); found {
		t.Error("a row without a name was found by no name")
	}
}
