package data

import (
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"math"
	"slices"
)

// Points are stored many to a page, as differences from the one before: about
// six bytes a point. Numbers in keys are big-endian, and the time has its sign
// bit turned over, so that pages sort as their points do.
//
//	key    series id, 8 bytes │ time of the first point, 8 bytes
//	value  version, 1 byte │ points │ CRC-32C of key, version and points, 4 bytes
//	point  Δ time, uvarint │ Δ gravity, varint │ temperature, uvarint
//
// The first point counts from the time in the key and from gravity 0. The
// temperature is 0 where there is none, else 1 + the zigzag difference from the
// last one there was, or from 0 °C.
//
// The checksum is here because bbolt has none below its meta pages: a flipped
// bit would turn up as a gravity nobody measured.
const (
	pageVersion   = 1
	pageKeySize   = 16
	minPointSize  = 3
	checksumSize  = 4
	signBit       = 1 << 63
	noTemperature = 0
)

// pageKey returns the key of the page of series id that starts at atMS.
func pageKey(id uint64, atMS int64) []byte {
	key := binary.BigEndian.AppendUint64(make([]byte, 0, pageKeySize), id)
	return binary.BigEndian.AppendUint64(key, uint64(atMS)^signBit)
}

// splitKey is the inverse of pageKey.
func splitKey(key []byte) (id uint64, atMS int64, err error) {
	if len(key) != pageKeySize {
		return 0, 0, fmt.Errorf("%w: series page with a key of %d bytes", ErrDamaged, len(key))
	}
	return binary.BigEndian.Uint64(key), int64(binary.BigEndian.Uint64(key[8:]) ^ signBit), nil
}

// encodePage returns the key and value of a page of one or more tidy points.
func encodePage(id uint64, points []seriesPoint) (key, value []byte) {
	key = pageKey(id, points[0].AtMS)
	value = make([]byte, 1, 1+2*minPointSize*len(points)+checksumSize)
	value[0] = pageVersion
	at, sg, temp := points[0].AtMS, int64(0), int64(0)
	for _, p := range points {
		value = binary.AppendUvarint(value, uint64(p.AtMS)-uint64(at)) // right even where int64 would overflow
		value = binary.AppendVarint(value, int64(p.SGe5)-sg)
		at, sg = p.AtMS, int64(p.SGe5)
		if !p.HasTemp {
			value = append(value, noTemperature)
			continue
		}
		value = binary.AppendUvarint(value, 1+zigzag(int64(p.TempCentiC)-temp))
		temp = int64(p.TempCentiC)
	}
	return key, binary.BigEndian.AppendUint32(value, pageChecksum(key, value))
}

// decodePage appends the points of a page to dst. Whatever the bytes are, it
// returns points as encodePage takes them, or ErrDamaged, and allocates no more
// than a few times the length of value.
func decodePage(dst []seriesPoint, key, value []byte) ([]seriesPoint, error) {
	_, first, err := splitKey(key)
	if err != nil {
		return dst, err
	}
	body, err := openPage(key, value)
	if err != nil {
		return dst, fmt.Errorf("%w: series page %x: %w", ErrDamaged, key, err)
	}
	points := slices.Grow(dst, len(body)/minPointSize)
	for d := (pageDecoder{rest: body, at: first}); len(d.rest) > 0; {
		p, err := d.next()
		switch isFirst := len(points) == len(dst); {
		case err != nil:
		case isFirst && p.AtMS != first, !isFirst && comparePoints(points[len(points)-1], p) >= 0:
			err = fmt.Errorf("out of order")
		}
		if err != nil {
			return dst, fmt.Errorf("%w: series page %x, point %d: %w", ErrDamaged, key, len(points)-len(dst), err)
		}
		points = append(points, p)
	}
	return points, nil
}

// openPage returns the points of a value, still packed, once its version and
// checksum are right.
func openPage(key, value []byte) ([]byte, error) {
	end := len(value) - checksumSize
	if end < 1+minPointSize {
		return nil, fmt.Errorf("%d bytes are too few", len(value))
	}
	if value[0] != pageVersion {
		return nil, fmt.Errorf("unknown version %d", value[0])
	}
	if pageChecksum(key, value[:end]) != binary.BigEndian.Uint32(value[end:]) {
		return nil, fmt.Errorf("checksum does not match")
	}
	return value[1:end], nil
}

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

func pageChecksum(key, value []byte) uint32 {
	return crc32.Update(crc32.Checksum(key, castagnoli), castagnoli, value)
}

// pageDecoder unpacks points one after the other.
type pageDecoder struct {
	rest     []byte
	at       int64 // of the last point, as are gravity and temperature
	sg, temp int64
}

func (d *pageDecoder) next() (seriesPoint, error) {
	ahead, ok1 := d.uvarint()
	rise, ok2 := d.uvarint()
	warmth, ok3 := d.uvarint()
	if !ok1 || !ok2 || !ok3 {
		return seriesPoint{}, fmt.Errorf("a number is cut off")
	}
	if ahead > uint64(math.MaxInt64)-uint64(d.at) {
		return seriesPoint{}, fmt.Errorf("time out of range")
	}
	d.at = int64(uint64(d.at) + ahead)
	d.sg += unzigzag(rise)
	p := seriesPoint{AtMS: d.at, SGe5: int32(d.sg)}
	if warmth != noTemperature {
		d.temp += unzigzag(warmth - 1)
		p.TempCentiC, p.HasTemp = int16(d.temp), true
	}
	if int64(p.SGe5) != d.sg || p.HasTemp && int64(p.TempCentiC) != d.temp {
		return seriesPoint{}, fmt.Errorf("gravity or temperature out of range")
	}
	return p, nil
}

func (d *pageDecoder) uvarint() (x uint64, ok bool) {
	x, n := binary.Uvarint(d.rest)
	if n <= 0 {
		return 0, false
	}
	d.rest = d.rest[n:]
	return x, true
}

// zigzag maps small numbers of either sign to small unsigned ones, as the
// varints of encoding/binary do; it is apart because of the 1 that is added.
func zigzag(x int64) uint64 { return uint64(x<<1) ^ uint64(x>>63) }

func unzigzag(u uint64) int64 { return int64(u>>1) ^ -int64(u&1) }
