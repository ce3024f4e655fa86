package ledger

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"

	"musterstone/model"
)

// Rebuild writes a new ledger at path with decisions that were kept elsewhere, each as it was made, in the order of their times. A file that is there is
// never touched.
func Rebuild(path string, decisions []model.Decision) error {
	if _, err := os.Lstat(path); !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("rebuild ledger %s: there is one already, and it is never overwritten; move it away", path)
	}
	decisions = slices.Clone(decisions)
	slices.SortFunc(decisions, compare)
	var text []byte
	prev := ""
	for _, d := range decisions {
		if bad := lacks(d); bad != "" {
			return fmt.Errorf("rebuild ledger %s: %s; mend the ledger that it comes from, and publish that anew", path, bad)
		}
		line, sum, err := encode(d, prev)
		if err != nil {
			return fmt.Errorf("rebuild ledger %s: %w", path, err)
		}
		text, prev = append(text, line...), sum
	}
	if err := writeFile(path, text); err != nil {
		return fmt.Errorf("rebuild ledger %s: %w; %s", path, err, mend(err))
	}
	return nil
}
