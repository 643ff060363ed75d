package data

import (
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// WriteFile writes a file for people, such as a sheet to print: whole or not at all, so
// that a reader never sees half of it. Unless over is set a file that is there already
// is left alone and the error wraps [fs.ErrExist].
func WriteFile(path string, content []byte, over bool) error {
	return plainPathError("write", path, writeFile(path, content, over, 0o644))
}

// plainPathError says what was being done to which file, without the second mention of
// it, or of its draft, that the system's errors bring.
func plainPathError(doing, path string, err error) error {
	if err == nil {
		return nil
	}
	if perr, ok := err.(*fs.PathError); ok {
		err = perr.Err
	}
	if lerr, ok := err.(*os.LinkError); ok {
		err = lerr.Err
	}
	return fmt.Errorf("%s %s: %w", doing, path, err)
}

func writeFile(path string, content []byte, over bool, rights fs.FileMode) error {
	return writeFileFrom(path, over, rights, func(w io.Writer) error {
		_, err := w.Write(content)
		return err
	})
}

// writeFileFrom is writeFile for what is too large to be held: fill writes it.
func writeFileFrom(path string, over bool, rights fs.FileMode, fill func(io.Writer) error) error {
	if !over {
		if _, err := os.Lstat(path); err == nil {
			return fs.ErrExist
		}
	}
	draft, err := os.CreateTemp(filepath.Dir(path), ".glassrow-*")
	if err != nil {
		return err
	}
	defer os.Remove(draft.Name()) // gone already when it was renamed
	err = fill(draft)
	if err == nil {
		err = draft.Chmod(rights)
	}
	if err == nil {
		err = draft.Sync()
	}
	if closed := draft.Close(); err == nil {
		err = closed
	}
	if err != nil {
		return err
	}
	if err := settle(draft.Name(), path, over); err != nil {
		return err
	}
	return syncDir(filepath.Dir(path))
}

// settle gives the finished draft its name. A link, unlike a rename, fails when somebody
// was quicker; where the filesystem has none, the look before must do.
func settle(draft, path string, over bool) error {
	if !over {
		err := os.Link(draft, path)
		if err == nil || os.IsExist(err) {
			return err
		}
	}
	return os.Rename(draft, path)
}
