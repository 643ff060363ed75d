package model

import (
	"fmt"
	"math"
	"time"

	"cellar.local/glassrow/calc"
)

// Understood is what a reading would mean for its batch, before it is accepted.
type Understood struct {
	Reading   Reading
	SG        calc.SG // corrected for temperature; 0: no gravity in the reading
	Strength  calc.PercentVol
	PlusMinus calc.PercentVol

	// What a scale and the marks say, where the reading holds that; Entry 0: it does not.
	Weighing Weighing
	Level    Levelled

	Since  time.Time // the gravity before this one; zero: none
	Change float64   // points since then
	Days   float64

	// Surprise says what is odd about the reading, for a person to confirm;
	// empty when nothing is.
	Surprise string
}

// Limits past which a reading is plausible enough to accept but odd enough to
// ask once.
const (
	surprisingRise    = 3.0  // points up with nothing added
	surprisingFall    = 40.0 // points a day
	surprisingWarmth  = 35.0 // °C of a sample
	surprisingUnknown = 8.0  // g/L of extract that nothing explains
	surprisingMust    = 5.0  // points between a must and the reading that corrects it
)

// Understand works out what the reading would mean if it were entered for time
// at. It changes nothing.
func Understand(b Batch, r Reading, at time.Time) (Understood, error) {
	return b.Awaiting(at).Understand(r, at)
}

// Awaited is a batch as it stands before a reading of it, for a line that asks anew with
// every key what its text would mean.
type Awaited struct {
	batch Batch
	at    time.Time
	curve []Point
	err   error
}

// Awaiting works out how the batch stands before what is read at a moment.
func (b Batch) Awaiting(at time.Time) Awaited {
	s, err := Replay(b, at)
	return Awaited{b, at, s.Curve, err}
}

// beforeLasts is how long it is taken for what stands before a reading.
const beforeLasts = 10 * time.Minute

// Understand works out what the reading would mean, as the function of that name does. A
// moment too far from the one it was worked out for is worked out anew.
func (p Awaited) Understand(r Reading, at time.Time) (Understood, error) {
	if late := at.Sub(p.at); late < 0 || late > beforeLasts {
		p = p.batch.Awaiting(at)
	}
	b := p.batch
	if err := r.Validate(); err != nil {
		return Understood{}, err
	}
	u := Understood{Reading: r}
	if made := b.Started(); at.Before(made) {
		return u, fmt.Errorf("the must was made later than that, on %s: %w", made.Format("2 Jan 2006 15:04"), ErrInvalid)
	}
	if p.err != nil {
		return u, p.err
	}
	if !r.HasGravity() && r.Mass == 0 && r.Level == 0 {
		u.Surprise = warmSurprise(r)
		return u, nil
	}
	b.Entries = append(b.Entries[:len(b.Entries):len(b.Entries)], Entry{ID: endOfIDs, At: at, Body: r})
	after, err := Replay(b, at)
	if err != nil {
		return u, err
	}
	u.Weighing, _ = after.WeighingOf(endOfIDs)
	u.Level, _ = after.LevelOf(endOfIDs)
	if !r.HasGravity() {
		u.Surprise = warmSurprise(r)
		return u, nil
	}
	last := lastByHand(p.curve)
	u.SG, u.Strength, u.PlusMinus = after.SG(), after.Strength, after.PlusMinus
	u.Since, u.Change, u.Days = last.At, after.SG().Points()-last.SG.Points(), daysBetween(last.At, at)
	u.Surprise = u.surprise(last, after)
	return u, nil
}

// endOfIDs is larger than the number of any entry.
const endOfIDs EntryID = math.MaxUint64

// surprise says what is odd about the step from the last gravity to this one.
func (u Understood) surprise(last Point, after State) string {
	rise := u.Change - after.Curve[len(after.Curve)-1].juice
	switch {
	case after.Pitched.IsZero():
		if math.Abs(u.Change) >= surprisingMust {
			return fmt.Sprintf("%.0f points %s the must as it was; with no yeast in yet, the must is taken to be what you read now",
				math.Abs(u.Change), upOrDown(u.Change, "above", "below"))
		}
	case after.unpitched && last.At.Equal(after.Pitched):
		return fmt.Sprintf("%.0f points down, though no yeast is in the journal", -u.Change)
	case rise >= surprisingRise && after.gave():
		return fmt.Sprintf("%.0f points up, of which the fruit should have made %.0f", u.Change, u.Change-rise)
	case u.Change >= surprisingRise && after.gave(): // what the fruit gives
	case u.Change >= surprisingRise && last.Computed:
		return fmt.Sprintf("%.0f points above what was added comes to", u.Change)
	case u.Change >= surprisingRise:
		return fmt.Sprintf("%.0f points up since the last one, with nothing added in between", u.Change)
	case -u.Change > surprisingFall*math.Max(u.Days, 0.25):
		return fmt.Sprintf("%.0f points down in %.1f days is very fast", -u.Change, u.Days)
	case math.Abs(float64(after.Unexplained)) > surprisingUnknown:
		return fmt.Sprintf("%.0f g/L that the sugar in the journal does not explain", float64(after.Unexplained))
	}
	return warmSurprise(u.Reading)
}

func upOrDown(x float64, up, down string) string {
	if x < 0 {
		return down
	}
	return up
}

func warmSurprise(r Reading) string {
	if r.HasTemperature && r.Temperature > surprisingWarmth {
		return fmt.Sprintf("%.0f °C is warm for a sample; the reading is better when it has cooled", float64(r.Temperature))
	}
	return ""
}
