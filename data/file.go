package data

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// WriteFile writes a file for people, such as a sheet to print: whole or not at all, so
// that a reader never sees half of it. Unless over is set a file that is there already
// is left alone and the error wraps [fs.ErrExist].
func WriteFile(path string, content []byte, over bool) error {
	if err := writeFile(path, content, over, 0o644); err != nil {
		if perr, ok := err.(*fs.PathError); ok {
			err = perr.Err
		}
		if lerr, ok := err.(*os.LinkError); ok {
			err = lerr.Err
		}
		return fmt.Errorf("write %s: %w", path, err)
	}
	return nil
}

func writeFile(path string, content []byte, over bool, rights fs.FileMode) error {
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
	_, err = draft.Write(content)
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
