package data

import (
	"bytes"
	"encoding/binary"
	"errors"
	"math"
	"slices"
	"testing"
)

// trickyPoints are tidy, and go to every limit of their types.
var trickyPoints = []seriesPoint{
	{AtMS: math.MinInt64, SGe5: math.MinInt32},
	{AtMS: math.MinInt64, SGe5: math.MinInt32, TempCentiC: math.MinInt16, HasTemp: true},
	{AtMS: math.MinInt64, SGe5: math.MaxInt32, TempCentiC: math.MaxInt16, HasTemp: true},
	{AtMS: 0, SGe5: 0, TempCentiC: math.MinInt16, HasTemp: true},
	{AtMS: 1760000000000, SGe5: 110400, TempCentiC: 2050, HasTemp: true},
	{AtMS: 1760000900000, SGe5: 110390},
	{AtMS: 1760001800000, SGe5: 110410, TempCentiC: 2062, HasTemp: true},
	{AtMS: math.MaxInt64, SGe5: math.MinInt32},
}

// Ensure that a page gives back what was put in.
func TestPage_RoundTrip(t *testing.T) {
	key, value := encodePage(7, trickyPoints)
	before := []seriesPoint{{AtMS: 1}}
	got, err := decodePage(before, key, value)
	if err != nil {
		t.Fatal(err)
	}
	if want := slices.Concat(before, trickyPoints); !slices.Equal(got, want) {
		t.Errorf("decodePage = %v, want %v", got, want)
	}
}

// Ensure that the layout on disk stays what it is. These bytes are in people's
// cellars; a change needs a new version number.
func TestPage_Layout(t *testing.T) {
	key, value := encodePage(7, trickyPoints[4:7])
	wantKey := []byte{0, 0, 0, 0, 0, 0, 0, 7, 0x80, 0, 1, 0x99, 0xC8, 0x2C, 0xC0, 0} // 1760000000000 is 0x199C82CC000
	if !bytes.Equal(key, wantKey) {
		t.Errorf("key = % x, want % x", key, wantKey)
	}
	wantValue := []byte{
		1,                               // version
		0, 0x80, 0xBD, 0x0D, 0x85, 0x20, // the time of the key, 110400, 1 + 2·2050
		0xA0, 0xF7, 0x36, 0x13, 0, // 900000 ms on, −10, no temperature
		0xA0, 0xF7, 0x36, 0x28, 0x19, // 900000 ms on, +20, 1 + 2·12
	}
	if got := value[:len(value)-checksumSize]; !bytes.Equal(got, wantValue) {
		t.Errorf("value = % x, want % x", got, wantValue)
	}
}

// Ensure that pages sort as their points do.
func TestPageKey_Sorts(t *testing.T) {
	var keys [][]byte
	for _, id := range []uint64{0, 1, 255, 256, math.MaxUint64} {
		for _, at := range []int64{math.MinInt64, -1, 0, 1, 255, 256, math.MaxInt64} {
			key := pageKey(id, at)
			keys = append(keys, key)
			if gotID, gotAt, err := splitKey(key); gotID != id || gotAt != at || err != nil {
				t.Errorf("splitKey(pageKey(%d, %d)) = %d, %d, %v", id, at, gotID, gotAt, err)
			}
		}
	}
	if !slices.IsSortedFunc(keys, bytes.Compare) {
		t.Errorf("keys = %x, want them in order", keys)
	}
}

// Ensure that a changed bit anywhere in a page, or a missing end, is noticed.
func TestPage_FlippedBit(t *testing.T) {
	key, value := encodePage(7, trickyPoints[3:])
	page := slices.Concat(key, value)
	for bit := range 8 * len(page) {
		bad := slices.Clone(page)
		bad[bit/8] ^= 1 << (bit % 8)
		_, err := decodePage(nil, bad[:pageKeySize], bad[pageKeySize:])
		if !errors.Is(err, ErrDamaged) {
			t.Errorf("decodePage with bit %d flipped = %v, want damaged", bit, err)
		}
	}
	for n := range page {
		if _, err := decodePage(nil, page[:min(n, pageKeySize)], page[min(n, pageKeySize):n]); !errors.Is(err, ErrDamaged) {
			t.Errorf("decodePage of the first %d bytes = %v, want damaged", n, err)
		}
	}
}

// pointsFrom makes tidy points of any bytes.
func pointsFrom(data []byte) []seriesPoint {
	var points []seriesPoint
	for ; len(data) >= 16; data = data[16:] {
		points = append(points, seriesPoint{
			AtMS:       int64(binary.LittleEndian.Uint64(data)),
			SGe5:       int32(binary.LittleEndian.Uint32(data[8:])),
			TempCentiC: int16(binary.LittleEndian.Uint16(data[12:])),
			HasTemp:    data[14]&1 == 1,
		})
	}
	return tidy(points)
}

// Any points survive being packed.
func FuzzPage_RoundTrip(f *testing.F) {
	f.Add(uint64(7), bytes.Repeat([]byte{0xFF, 0, 1, 0x80}, 20))
	f.Add(uint64(0), make([]byte, 16))
	f.Fuzz(func(t *testing.T, id uint64, data []byte) {
		points := pointsFrom(data)
		if len(points) == 0 {
			return
		}
		key, value := encodePage(id, points)
		got, err := decodePage(nil, key, value)
		if err != nil || !slices.Equal(got, points) {
			t.Errorf("decodePage = %v, %v, want %v", got, err, points)
		}
	})
}

// Whatever the bytes, even under a good checksum, decodePage returns points
// fit to be packed again or says damaged; and it does not let a few bytes cost
// much memory.
func FuzzPage_Decode(f *testing.F) {
	key, value := encodePage(7, trickyPoints)
	f.Add(key, value, false)
	f.Add(key, value[:len(value)-checksumSize], true)
	f.Add(key, []byte{pageVersion, 0, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 1, 0}, true)
	f.Fuzz(func(t *testing.T, key, value []byte, sealed bool) {
		if sealed {
			value = binary.BigEndian.AppendUint32(slices.Clip(value), pageChecksum(key, value))
		}
		points, err := decodePage(nil, key, value)
		if cap(points) > len(value) {
			t.Errorf("%d bytes took room for %d points", len(value), cap(points))
		}
		if err != nil {
			if !errors.Is(err, ErrDamaged) || len(points) > 0 {
				t.Errorf("decodePage = %v, %v, want nothing and damaged", points, err)
			}
			return
		}
		if len(points) == 0 || !slices.Equal(points, tidy(points)) {
			t.Fatalf("decodePage = %v, which is not tidy", points)
		}
		id, _, _ := splitKey(key)
		key2, value2 := encodePage(id, points)
		if again, err := decodePage(nil, key2, value2); err != nil || !slices.Equal(again, points) || !bytes.Equal(key, key2) {
			t.Errorf("packed again: %v, %v, want %v", again, err, points)
		}
	})
}
