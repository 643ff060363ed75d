package data

import "io"

// windows reads a file in pieces larger than a page and keeps the last ones: a walk along
// a tree level by level visits pages that lie near each other, and a read of the system costs
// more than the bytes it brings. A hundred megabytes take half the time.
type windows struct {
	file io.ReaderAt
	kept [windowsKept]window
}

const (
	windowSize  = 64 << 10
	windowsKept = 8
)

type window struct {
	at    int64 // where it starts, plus 1; 0: nothing read yet
	bytes []byte
}

// ReadAt implements io.ReaderAt. What a window does not hold whole is read as it is, and
// so are errors.
func (w *windows) ReadAt(p []byte, at int64) (int, error) {
	start := at &^ (windowSize - 1)
	in := &w.kept[start/windowSize%windowsKept]
	if in.at != start+1 {
		if in.bytes == nil {
			in.bytes = make([]byte, windowSize)
		}
		n, err := w.file.ReadAt(in.bytes[:cap(in.bytes)], start)
		if err != nil && err != io.EOF {
			in.at = 0
			return w.file.ReadAt(p, at)
		}
		in.at, in.bytes = start+1, in.bytes[:n]
	}
	if from := int(at - start); from+len(p) <= len(in.bytes) {
		return copy(p, in.bytes[from:]), nil
	}
	return w.file.ReadAt(p, at)
}
