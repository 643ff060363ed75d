package model

import "strings"

// FindNamed finds the row of a handbook that a person means by name: the one with a
// name that is the same, or else the only one with a name that begins with or
// contains the words. An s at the end does not count, so plums finds plum. matches
// lists the candidates when there is not exactly one.
func FindNamed[T any](all []T, names func(T) []string, name string) (found T, ok bool, matches []T) {
	want := foldName(name)
	if want == "" {
		return found, false, nil
	}
	for _, fits := range []func(string) bool{
		func(n string) bool { return n == want },
		func(n string) bool { return singular(n) == singular(want) },
		func(n string) bool { return strings.HasPrefix(n, want) },
		func(n string) bool { return strings.Contains(n, want) },
	} {
		matches = nil
		for _, row := range all {
			if anyName(names(row), fits) {
				matches = append(matches, row)
			}
		}
		switch len(matches) {
		case 0:
		case 1:
			return matches[0], true, nil
		default:
			return found, false, matches
		}
	}
	return found, false, nil
}

func anyName(names []string, fits func(string) bool) bool {
	for _, n := range names {
		if fits(foldName(n)) {
			return true
		}
	}
	return false
}

// singular drops the s of a plural. Where a word changes more than that, as cherry
// does, the handbook has an alias.
func singular(n string) string { return strings.TrimSuffix(n, "s") }
