package desk

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	_ "image/gif"  // sizes of photographs
	_ "image/jpeg" // sizes of photographs
	_ "image/png"  // sizes of photographs
	"io"
	"net/http"
	"path/filepath"
	"slices"
	"time"
)

// maxPhoto bounds a photograph, in bytes.
const maxPhoto = 32 << 20

// photoTypes are the types that are shown. A drawing that can hold a script is not among them.
var photoTypes = []string{"image/jpeg", "image/png", "image/gif", "image/webp"}

// picture is a photograph of the survey folder.
type picture struct {
	data          []byte
	kind          string
	width, height int // 0 where not known
	changed       time.Time
}

// openPhoto reads a photograph that a row of the stones table names: a file in the survey folder or below it, that no link leads out of, and that is
// a photograph by its own bytes, whatever its name says.
func (d *Desk) openPhoto(name string) (*picture, error) {
	if !filepath.IsLocal(name) {
		return nil, errors.New("it is not in the survey folder")
	}
	info, err := d.folder.Stat(name) // before it is opened, for a pipe would not open
	switch {
	case err != nil:
		return nil, errors.New("there is no such file in the survey folder")
	case !info.Mode().IsRegular():
		return nil, errors.New("it is not a file")
	case info.Size() > maxPhoto:
		return nil, fmt.Errorf("it is larger than %d megabytes", maxPhoto>>20)
	}
	f, err := d.folder.Open(name)
	if err != nil {
		return nil, errors.New("it cannot be opened")
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, maxPhoto))
	if err != nil {
		return nil, fmt.Errorf("it cannot be read: %w", err)
	}
	p := &picture{data: data, kind: http.DetectContentType(data), changed: info.ModTime()}
	if !slices.Contains(photoTypes, p.kind) {
		return nil, errors.New("it is not a photograph of a type that is shown (JPEG, PNG, GIF, WebP)")
	}
	if c, _, err := image.DecodeConfig(bytes.NewReader(data)); err == nil {
		p.width, p.height = c.Width, c.Height
	}
	return p, nil
}

// photo serves the photograph of a stone.
func (d *Desk) photo(w http.ResponseWriter, r *http.Request) error {
	i, err := d.stoneOf(r.URL.Query().Get("stone"))
	if err != nil {
		return err
	}
	name := d.subjects[i].Stone.Photo
	if name == "" {
		return &wrong{http.StatusNotFound, "the stone has no photograph"}
	}
	p, err := d.openPhoto(name)
	if err != nil {
		return &wrong{http.StatusNotFound, fmt.Sprintf("the photograph %q is not shown: %v", name, err)}
	}
	h := w.Header()
	h.Set("Content-Type", p.kind)
	h.Set("Content-Security-Policy", "default-src 'none'; sandbox")
	h.Set("Content-Disposition", "inline")
	h.Set("Cache-Control", "private, no-cache")
	http.ServeContent(w, r, "", p.changed, bytes.NewReader(p.data))
	return nil
}
