package inscription

import (
	"reflect"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"musterstone/model"
)

// TestTogether: readings made by several goroutines at a time, and many before they are looked at, are those made alone: no two share memory that either writes.
func TestTogether(t *testing.T) {
	cases := allCases(t)
	alone := make([]model.Reading, len(cases))
	for i, c := range cases {
		alone[i] = Read(c.text, Context{})[0]
	}
	var wait sync.WaitGroup
	for range 4 {
		wait.Go(func() {
			all := make([][]model.Reading, len(cases))
			for i, c := range cases {
				all[i] = Read(c.text, Context{})
				_ = append(all[i][0].Tokens, model.Token{Field: "written behind"})
				_ = append(all[i][0].People, model.Claim{Home: "written behind"})
				_ = append(all[i], model.Reading{GraveNumber: "written behind"})
			}
			for i, c := range cases {
				if !reflect.DeepEqual(alone[i], all[i][0]) {
					t.Errorf("%s: %s\n%s", c.where, c.text, cmp.Diff(alone[i], all[i][0]))
				}
			}
		})
	}
	wait.Wait()
}
