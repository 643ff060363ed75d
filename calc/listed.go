package calc

import "strings"

// Listed is what every row of a handbook table has beside its figures.
type Listed struct {
	ID      string
	Name    string   // the everyday name
	Aliases []string // other names people search for
	Notes   string
	Source  string // where the figures are from, and how far they were checked
}

// Called reports whether word is the row's id, its name or an alias. Case, and
// whether words are joined by a space, a hyphen or an underscore, do not matter.
func (l Listed) Called(word string) bool {
	want := plainWord(word)
	if want == "" {
		return false
	}
	for _, name := range append([]string{l.ID, l.Name}, l.Aliases...) {
		if plainWord(name) == want {
			return true
		}
	}
	return false
}

// Find returns the first of the rows that goes by the name.
func Find[Row interface{ Called(string) bool }](rows []Row, name string) (Row, bool) {
	for _, r := range rows {
		if r.Called(name) {
			return r, true
		}
	}
	var none Row
	return none, false
}

var wordJoints = strings.NewReplacer("-", " ", "_", " ")

func plainWord(name string) string {
	return strings.Join(strings.Fields(strings.ToLower(wordJoints.Replace(name))), " ")
}
