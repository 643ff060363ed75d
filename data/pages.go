package data

import (
	"bytes"
	"context"
	"encoding/binary"
	"fmt"
	"io"
	"os"
	"slices"
)

// This file reads bbolt's pages without bbolt, and believes nothing in them.
//
// bbolt follows every page number it finds. One that points back up the tree
// sends it round in circles until the memory of the machine is used up; one
// that points outside the file is a memory fault, and its Check runs in a
// goroutine of its own where no recover of ours can reach. So the tree is
// walked here first, with plain reads, each page at most once.
//
// The layout is bbolt's version 2, in the byte order of the machine:
//
//	page    id u64 │ flags u16 │ count u16 │ overflow u32 │ count × element │ bytes
//	meta    magic u32 │ version u32 │ page size u32 │ flags u32 │ root u64 │
//	        sequence u64 │ freelist u64 │ high-water mark u64 │ txid u64 │ checksum u64
//	branch  pos u32 │ key size u32 │ child page u64
//	leaf    flags u32 │ pos u32 │ key size u32 │ value size u32
//	bucket  root u64 │ sequence u64 │ (root = 0: a whole leaf page, inline)
//
// A pos counts from the start of its own element.
const (
	pageHeaderSize   = 16
	elementSize      = 16 // of either sort
	bucketHeaderSize = 16

	branchFlag   = 0x01
	leafFlag     = 0x02
	freelistFlag = 0x10
	bucketFlag   = 0x01 // of a leaf element whose value is a bucket

	noFreelist = ^uint64(0) // in the meta page: the freelist is not stored
	boltMagic  = 0xED0CDAED
)

// hasBoltMagic reports whether the first pages of the file carry bbolt's mark,
// so that what does not open is a broken database rather than another thing.
func hasBoltMagic(path string) bool {
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	defer f.Close()
	head, _ := io.ReadAll(io.LimitReader(f, 64<<10))
	return bytes.Contains(head, binary.NativeEndian.AppendUint32(nil, boltMagic))
}

// pageWalk is one walk over the pages reachable from a root.
type pageWalk struct {
	file     io.ReaderAt
	pageSize int
	pages    uint64   // page numbers are below this, the high-water mark
	seen     []bool   // by page number, overflow pages included
	todo     []uint64 // roots of subtrees not yet visited
	page     []byte   // the one being visited
}

// walkPages visits every page of the state that transaction txid sees. It
// returns ErrDamaged at the first thing that cannot be, and ctx's error when
// that ends first. It does not look at the order of keys, nor for lost pages:
// those bbolt's Check finds, and safely once this has passed. A megabyte takes
// about 0.2 ms.
func walkPages(ctx context.Context, file io.ReaderAt, pageSize int, txid uint64) error {
	root, freelist, pages, err := metaOf(file, pageSize, txid)
	if err != nil {
		return err
	}
	w := &pageWalk{file: file, pageSize: pageSize, pages: pages, seen: make([]bool, pages), page: make([]byte, pageSize)}
	w.seen[0], w.seen[1] = true, true // the meta pages
	for w.todo = append(w.todo, root); len(w.todo) > 0; {
		level := w.todo
		w.todo = nil
		slices.Sort(level) // as they lie in the file, to read it once from end to end
		for _, id := range level {
			if err := ctx.Err(); err != nil {
				return err
			}
			if err := w.visit(id); err != nil {
				return err
			}
		}
	}
	if freelist == noFreelist {
		return nil
	}
	return w.freelist(freelist)
}

// metaOf returns what the meta page written by transaction txid points at.
// bbolt has verified its checksum when it began the transaction. Even transactions
// write the first page and odd ones the second; but in a copy that bbolt made of the
// state of one, the first is always that one's.
func metaOf(file io.ReaderAt, pageSize int, txid uint64) (root, freelist, pages uint64, err error) {
	m := make([]byte, 64)
	u64 := binary.NativeEndian.Uint64
	for _, page := range []uint64{txid % 2, 1 - txid%2} {
		if _, err := file.ReadAt(m, int64(page)*int64(pageSize)+pageHeaderSize); err != nil {
			return 0, 0, 0, fmt.Errorf("%w: meta page: %w", ErrDamaged, err)
		}
		if u64(m[48:]) == txid {
			break
		}
	}
	root, freelist, pages = u64(m[16:]), u64(m[32:]), u64(m[40:])
	if u64(m[48:]) != txid || pages < 2 {
		return 0, 0, 0, fmt.Errorf("%w: meta page of transaction %d", ErrDamaged, txid)
	}
	return root, freelist, pages, nil
}

// visit checks the page and puts its children on the list.
func (w *pageWalk) visit(id uint64) error {
	page, err := w.load(id)
	if err != nil {
		return err
	}
	switch flagsOf(page) {
	case leafFlag:
		err = w.leaf(page)
	case branchFlag:
		err = w.branch(page)
	default:
		err = fmt.Errorf("neither leaf nor branch")
	}
	if err != nil {
		return fmt.Errorf("%w: page %d: %w", ErrDamaged, id, err)
	}
	return nil
}

// load reads a page with its overflow, and refuses one that lies outside the
// file, names itself differently, or has been visited before. The bytes are
// good until the next load.
func (w *pageWalk) load(id uint64) ([]byte, error) {
	if id >= w.pages {
		return nil, fmt.Errorf("%w: page %d of %d", ErrDamaged, id, w.pages)
	}
	at := int64(id) * int64(w.pageSize)
	if _, err := w.file.ReadAt(w.page[:w.pageSize], at); err != nil {
		return nil, fmt.Errorf("%w: page %d: %w", ErrDamaged, id, err)
	}
	self, overflow := binary.NativeEndian.Uint64(w.page), uint64(binary.NativeEndian.Uint32(w.page[12:]))
	if self != id || id+overflow >= w.pages {
		return nil, fmt.Errorf("%w: page %d says it is pages %d to %d of %d", ErrDamaged, id, self, self+overflow, w.pages)
	}
	for n := id; n <= id+overflow; n++ {
		if err := w.use(n); err != nil {
			return nil, err
		}
	}
	size := (1 + int(overflow)) * w.pageSize
	if overflow > 0 {
		w.page = slices.Grow(w.page[:0], size)[:size]
		if _, err := w.file.ReadAt(w.page, at); err != nil {
			return nil, fmt.Errorf("%w: page %d: %w", ErrDamaged, id, err)
		}
	}
	return w.page[:size], nil
}

// use marks a page as taken, and refuses one that is taken already.
func (w *pageWalk) use(id uint64) error {
	if w.seen[id] {
		return fmt.Errorf("%w: page %d is used twice", ErrDamaged, id)
	}
	w.seen[id] = true
	return nil
}

// branch checks a page of keys and child pages.
func (w *pageWalk) branch(page []byte) error {
	n := countOf(page)
	if n == 0 {
		return fmt.Errorf("branch without children")
	}
	for i := range n {
		e, at, err := element(page, i)
		if err != nil {
			return err
		}
		pos, keySize := binary.NativeEndian.Uint32(e), binary.NativeEndian.Uint32(e[4:])
		if _, err := span(page, at, pos, keySize); err != nil {
			return err
		}
		w.todo = append(w.todo, binary.NativeEndian.Uint64(e[8:]))
	}
	return nil
}

// leaf checks a page of keys and values; the values that are buckets lead on.
func (w *pageWalk) leaf(page []byte) error {
	for i := range countOf(page) {
		e, at, err := element(page, i)
		if err != nil {
			return err
		}
		u32 := binary.NativeEndian.Uint32
		flags, pos, keySize, valueSize := u32(e), u32(e[4:]), u32(e[8:]), u32(e[12:])
		both, err := span(page, at, pos, keySize, valueSize)
		if err != nil {
			return err
		}
		if flags&bucketFlag == 0 {
			continue
		}
		if err := w.bucket(both[keySize:]); err != nil {
			return err
		}
	}
	return nil
}

// bucket checks a value that is a bucket. An inline one can hold no buckets.
func (w *pageWalk) bucket(value []byte) error {
	if len(value) < bucketHeaderSize {
		return fmt.Errorf("bucket of %d bytes", len(value))
	}
	if root := binary.NativeEndian.Uint64(value); root != 0 {
		w.todo = append(w.todo, root)
		return nil
	}
	inline := value[bucketHeaderSize:]
	if len(inline) < pageHeaderSize || flagsOf(inline) != leafFlag {
		return fmt.Errorf("inline bucket without a leaf")
	}
	before := len(w.todo)
	if err := w.leaf(inline); err != nil {
		return fmt.Errorf("inline bucket: %w", err)
	}
	if len(w.todo) != before {
		return fmt.Errorf("bucket within an inline bucket")
	}
	return nil
}

// freelist checks that the list of free pages fits its page and names pages of
// this file that nothing else uses: the next writer will write over them.
func (w *pageWalk) freelist(id uint64) error {
	page, err := w.load(id)
	if err != nil {
		return err
	}
	n, ids := uint64(countOf(page)), page[pageHeaderSize:]
	if n == 0xFFFF { // too many for the header: the first entry is the count
		n, ids = binary.NativeEndian.Uint64(ids), ids[8:]
	}
	if flagsOf(page) != freelistFlag || n > uint64(len(ids)/8) {
		return fmt.Errorf("%w: page %d is no freelist", ErrDamaged, id)
	}
	for i := range n {
		free := binary.NativeEndian.Uint64(ids[8*i:])
		if free >= w.pages {
			return fmt.Errorf("%w: freelist names page %d of %d", ErrDamaged, free, w.pages)
		}
		if err := w.use(free); err != nil {
			return err
		}
	}
	return nil
}

func flagsOf(page []byte) uint16 { return binary.NativeEndian.Uint16(page[8:]) }

func countOf(page []byte) int { return int(binary.NativeEndian.Uint16(page[10:])) }

// element returns the i-th element of a page and where it starts.
func element(page []byte, i int) (e []byte, at int, err error) {
	at = pageHeaderSize + i*elementSize
	if at+elementSize > len(page) {
		return nil, 0, fmt.Errorf("element %d is outside the page", i)
	}
	return page[at : at+elementSize], at, nil
}

// span returns the bytes of the given sizes, one after the other, that an
// element at position at points to.
func span(page []byte, at int, pos uint32, sizes ...uint32) ([]byte, error) {
	from := uint64(at) + uint64(pos)
	to := from
	for _, size := range sizes {
		to += uint64(size)
	}
	if to > uint64(len(page)) {
		return nil, fmt.Errorf("bytes %d to %d of %d", from, to, len(page))
	}
	return page[from:to], nil
}
