package data

import (
	"bytes"
	"errors"
	"io"
	"math/rand/v2"
	"testing"
)

// Ensure that windows say what the file says, over their edges and at its end too.
func TestWindows(t *testing.T) {
	file := make([]byte, 3*windowSize+100)
	random := rand.New(rand.NewPCG(7, 8))
	for i := range file {
		file[i] = byte(random.Uint32())
	}
	plain := bytes.NewReader(file)
	w := &windows{file: plain}
	for range 2000 {
		size, at := random.IntN(9000), random.Int64N(int64(len(file)+10))
		want, got := make([]byte, size), make([]byte, size)
		n, err := plain.ReadAt(want, at)
		m, gotErr := w.ReadAt(got, at)
		if m != n || !errors.Is(gotErr, err) && err != io.EOF || !bytes.Equal(got[:m], want[:n]) {
			t.Fatalf("%d bytes at %d: %d, %v, want %d, %v", size, at, m, gotErr, n, err)
		}
	}
}
