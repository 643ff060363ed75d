package data

import (
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"slices"
	"time"

	"go.etcd.io/bbolt"
	berrors "go.etcd.io/bbolt/errors"

	"cellar.local/glassrow/calc"
	"cellar.local/glassrow/model"
)

// A spell is kept beside the pages of a series, so that a batch is read without them. It
// is made of them alone, in the transaction that changes them, and can be made again.
//
//	key    batch id, 8 bytes │ start of the spell, 8 bytes, as of a page
//	value  version, 1 byte │ first, last, median, low, high, readings, 4 bytes each │
//	       temperature, 2 bytes │ whether there is one, 1 byte │ checksum as of a page
//
// First and last are milliseconds since the start; the rest is as in a seriesPoint.
const (
	spellVersion = 1
	spellSize    = 1 + 6*4 + 2 + 1 + checksumSize
)

func encodeSpell(id uint64, s model.Spell) (key, value []byte) {
	start := model.SpellStart(s.First)
	key = pageKey(id, start.UnixMilli())
	value = make([]byte, 1, spellSize)
	value[0] = spellVersion
	for _, n := range []int64{s.First.Sub(start).Milliseconds(), s.Last.Sub(start).Milliseconds(),
		gravityE5(s.Median), gravityE5(s.Low), gravityE5(s.High), int64(s.Readings)} {
		value = binary.BigEndian.AppendUint32(value, uint32(n))
	}
	value = binary.BigEndian.AppendUint16(value, uint16(centiC(s.Temperature)))
	value = append(value, 0)
	if s.HasTemperature {
		value[len(value)-1] = 1
	}
	return key, binary.BigEndian.AppendUint32(value, pageChecksum(key, value))
}

func decodeSpell(key, value []byte) (model.Spell, error) {
	_, startMS, err := splitKey(key)
	if err != nil {
		return model.Spell{}, err
	}
	end := spellSize - checksumSize
	if len(value) != spellSize || value[0] != spellVersion || pageChecksum(key, value[:end]) != binary.BigEndian.Uint32(value[end:]) {
		return model.Spell{}, fmt.Errorf("%w: spell %x", ErrDamaged, key)
	}
	field := func(i int) int32 { return int32(binary.BigEndian.Uint32(value[1+4*i:])) }
	start := time.UnixMilli(startMS).UTC()
	s := model.Spell{First: start.Add(time.Duration(field(0)) * time.Millisecond), Last: start.Add(time.Duration(field(1)) * time.Millisecond),
		Median: toGravity(field(2)), Low: toGravity(field(3)), High: toGravity(field(4)), Readings: int(uint32(field(5)))}
	if value[end-1] == 1 {
		s.Temperature, s.HasTemperature = toCelsius(int16(binary.BigEndian.Uint16(value[end-3:]))), true
	}
	return s, nil
}

func gravityE5(sg calc.SG) int64     { return int64(math.Round(float64(sg) * 1e5)) }
func toGravity(e5 int32) calc.SG     { return calc.SG(float64(e5) / 1e5) }
func centiC(t calc.Celsius) int16    { return int16(math.Round(float64(t) * 100)) }
func toCelsius(c int16) calc.Celsius { return calc.Celsius(float64(c) / 100) }

// fromDevice returns a reading of a device as it lies in a page.
func fromDevice(r model.DeviceReading) seriesPoint {
	p := seriesPoint{AtMS: r.At.UnixMilli(), SGe5: int32(gravityE5(r.Gravity))}
	if r.HasTemperature {
		p.TempCentiC, p.HasTemp = centiC(r.Temperature), true
	}
	return p
}

func toDevice(p seriesPoint) model.DeviceReading {
	r := model.DeviceReading{At: time.UnixMilli(p.AtMS).UTC(), Gravity: toGravity(p.SGe5)}
	if p.HasTemp {
		r.Temperature, r.HasTemperature = toCelsius(p.TempCentiC), true
	}
	return r
}

// spellsIn returns the spells of the series that is a batch's own.
func spellsIn(tx *bbolt.Tx, id uint64) ([]model.Spell, error) {
	b, err := bucket(tx, spellsBucket)
	if err != nil {
		return nil, err
	}
	var all []model.Spell
	c := b.Cursor()
	for k, v := c.Seek(pageKey(id, math.MinInt64)); inSeries(k, id); k, v = c.Next() {
		s, err := decodeSpell(k, v)
		if err != nil {
			return nil, err
		}
		all = append(all, s)
	}
	return all, nil
}

// addPoints adds points to the series of a batch and makes the spells anew that they lie
// in. It returns how many were new, as [appendSeries] does. The summary is for the caller
// to renew.
func addPoints(tx *bbolt.Tx, id uint64, points []seriesPoint) (added int, err error) {
	pages, err := bucket(tx, readingsBucket)
	if err != nil {
		return 0, err
	}
	if added, err = appendSeries(pages, id, points); err != nil || added == 0 {
		return added, err
	}
	starts := make([]int64, len(points))
	for i, p := range points {
		starts[i] = spellStartMS(p.AtMS)
	}
	slices.Sort(starts)
	for _, start := range slices.Compact(starts) {
		if err := putSpell(tx, id, start); err != nil {
			return added, err
		}
	}
	return added, nil
}

func spellStartMS(atMS int64) int64 { return model.SpellStart(time.UnixMilli(atMS)).UnixMilli() }

// putSpell makes the spell of a series anew that starts at a moment.
func putSpell(tx *bbolt.Tx, id uint64, startMS int64) error {
	var readings []model.DeviceReading
	err := scanSeries(tx.Bucket(readingsBucket), id, startMS, startMS+model.SpellLength.Milliseconds()-1, func(p seriesPoint) bool {
		readings = append(readings, toDevice(p))
		return true
	})
	if err != nil || len(readings) == 0 {
		return err
	}
	b, err := bucket(tx, spellsBucket)
	if err != nil {
		return err
	}
	b.FillPercent = 0.9 // as of pages
	return b.Put(encodeSpell(id, model.SpellOf(readings)))
}

// rebuildSpells makes all spells anew from the pages.
func rebuildSpells(tx *bbolt.Tx) error {
	if err := tx.DeleteBucket(spellsBucket); err != nil && !errors.Is(err, berrors.ErrBucketNotFound) {
		return err
	}
	b, err := tx.CreateBucket(spellsBucket)
	if err != nil {
		return err
	}
	b.FillPercent = 0.9
	return eachSpell(tx, func(id uint64, s model.Spell) error { return b.Put(encodeSpell(id, s)) })
}

// checkSpells reports a spell that the pages do not make, or that is missing.
func checkSpells(tx *bbolt.Tx) error {
	b, err := bucket(tx, spellsBucket)
	if err != nil {
		return err
	}
	n := 0
	err = eachSpell(tx, func(id uint64, want model.Spell) error {
		n++
		key, value := encodeSpell(id, want)
		if string(b.Get(key)) != string(value) {
			return fmt.Errorf("%w: the spell of %s of batch %d is not what its readings make", ErrDamaged, want.First.Format("2 Jan 2006 15:04"), id)
		}
		return nil
	})
	if err != nil {
		return err
	}
	return b.ForEach(func(k, _ []byte) error {
		if n--; n < 0 {
			return fmt.Errorf("%w: spell %x has no readings", ErrDamaged, k)
		}
		return nil
	})
}

// eachSpell works the spells out from the pages, series by series.
func eachSpell(tx *bbolt.Tx, visit func(id uint64, s model.Spell) error) error {
	pages, err := bucket(tx, readingsBucket)
	if err != nil {
		return err
	}
	var (
		id       uint64
		readings []model.DeviceReading // of the spell at hand
		points   []seriesPoint
	)
	flush := func() error {
		if len(readings) == 0 {
			return nil
		}
		s := model.SpellOf(readings)
		readings = readings[:0]
		return visit(id, s)
	}
	err = pages.ForEach(func(k, v []byte) error {
		sid, _, err := splitKey(k)
		if err != nil {
			return err
		}
		if points, err = decodePage(points[:0], k, v); err != nil {
			return err
		}
		for _, p := range points {
			if n := len(readings); n > 0 && (sid != id || spellStartMS(p.AtMS) != spellStartMS(readings[n-1].At.UnixMilli())) {
				if err := flush(); err != nil {
					return err
				}
			}
			id = sid
			readings = append(readings, toDevice(p))
		}
		return nil
	})
	if err != nil {
		return err
	}
	return flush()
}
