package model

import (
	"fmt"
	"strconv"
	"strings"
)

// Lot returns the number under which the batch is written on bottles and sheets:
// L2026-0312-04, the day on which its first entry happened, in UTC so that it reads the
// same wherever it is asked, and the batch's id. Entries are never edited and ids never
// used again, so a lot stays what it was when the label was glued on, even if the must
// is struck out and written down anew with another date.
func (b Batch) Lot() string {
	var began string
	if len(b.Entries) > 0 {
		began = b.Entries[0].At.UTC().Format("2006-0102") + "-"
	}
	return fmt.Sprintf("L%s%02d", began, b.ID)
}

// BatchOfLot returns the id of the batch that a lot number belongs to, if it is written
// like one. Whether that batch has that lot is for the caller to compare.
func BatchOfLot(lot string) (BatchID, bool) {
	parts := strings.Split(strings.TrimSpace(lot), "-")
	if len(parts) != 3 || len(parts[0]) != 5 || !strings.EqualFold(parts[0][:1], "L") || len(parts[1]) != 4 {
		return 0, false
	}
	id, err := strconv.ParseUint(parts[2], 10, 64)
	return BatchID(id), err == nil && id != 0
}
