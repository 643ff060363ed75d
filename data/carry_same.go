package data

import (
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"time"
)

// closeEnough is how far two numbers may lie apart, as a share, and still be the same:
// processors differ in the last digits, and so does a duration told in hours.
const closeEnough = 1e-9

// sameJSON compares a record as a file has it with what this program makes of it, and
// names the first thing that would be lost or would become another. Zero and left out
// are the same.
func sameJSON(raw json.RawMessage, record any) error {
	kept, err := json.Marshal(record)
	if err != nil {
		return err
	}
	var x, y any
	if err := json.Unmarshal(raw, &x); err != nil {
		return err
	}
	if err := json.Unmarshal(kept, &y); err != nil {
		return err
	}
	if at := firstLoss(x, y, closeEnough); at != "" {
		return fmt.Errorf("%s would not be kept as it is written; is it misspelt, or from a newer glassrow?", at)
	}
	return nil
}

// firstLoss returns where x says something that y does not; empty when it says nothing
// of the kind.
func firstLoss(x, y any, tolerance float64) string {
	switch x := x.(type) {
	case map[string]any:
		y, _ := y.(map[string]any)
		for _, key := range slices.Sorted(maps.Keys(x)) {
			if at := firstLoss(x[key], y[key], tolerance); at != "" {
				return join(strconv.Quote(key), at)
			}
		}
		return ""
	case []any:
		y, _ := y.([]any)
		for i := range x {
			var other any
			if i < len(y) {
				other = y[i]
			} else if x[i] != nil {
				return here
			}
			if at := firstLoss(x[i], other, tolerance); at != "" {
				return join(strconv.Itoa(i+1), at)
			}
		}
		return ""
	}
	if alike(x, y, tolerance) {
		return ""
	}
	return here
}

// here is the end of a path.
const here = "."

func join(step, rest string) string {
	if rest == here {
		return step
	}
	return step + " " + rest
}

// alike compares two plain values; one that is missing is nil.
func alike(x, y any, tolerance float64) bool {
	switch x := x.(type) {
	case nil:
		return true
	case float64:
		y, _ := y.(float64)
		return math.Abs(x-y) <= tolerance*max(1, math.Abs(x))
	case bool:
		y, _ := y.(bool)
		return x == y
	case string:
		y, _ := y.(string)
		return x == y || sameTime(x, y)
	}
	return false
}

// sameTime reports whether both are times, and the same; none is the zero time.
func sameTime(x, y string) bool {
	t, err := time.Parse(time.RFC3339Nano, x)
	if err != nil {
		return false
	}
	var u time.Time
	if y != "" {
		if u, err = time.Parse(time.RFC3339Nano, y); err != nil {
			return false
		}
	}
	return t.Sub(u).Abs() < time.Second
}
