package date

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"testing"
)

// TestOutside sets the bounds of the specification's examples beside those of another reader of the format, the npm package edtf (4.x).
// MUSTERSTONE_NODE names a folder with a node_modules that has it; with MUSTERSTONE_OUTSIDE=1 its absence is a failure.
func TestOutside(t *testing.T) {
	folder := os.Getenv("MUSTERSTONE_NODE")
	node, err := exec.LookPath("node")
	if folder == "" || err != nil {
		if os.Getenv("MUSTERSTONE_OUTSIDE") == "1" {
			t.Fatal("no outside reader: MUSTERSTONE_NODE must name a folder with node_modules/edtf, and node must be installed")
		}
		t.Skip("no outside reader: set MUSTERSTONE_NODE to a folder with node_modules/edtf, and install node")
	}
	var ask []string
	for _, e := range specExamples {
		if e.notOutside == "" {
			ask = append(ask, e.in)
		}
	}
	examples := len(ask)
	r := rand.New(rand.NewPCG(1864, 8))
	for range 2000 {
		ask = append(ask, drawn(r))
	}
	list, err := json.Marshal(ask)
	if err != nil {
		t.Fatal(err)
	}
	script := `import edtf from 'edtf'
const day = x => x === null || !Number.isFinite(x) ? '' : new Date(x).toISOString().split('T')[0].replace(/^-00/, '-')
console.log(JSON.stringify(` + string(list) + `.map(s => { try { const d = edtf(s); return [day(d.min), day(d.max)] } catch { return null } })))
`
	cmd := exec.Command(node, "--input-type=module", "-")
	cmd.Dir = folder
	cmd.Stdin = bytes.NewBufferString(script)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("node: %v\n%s", err, stderr.Bytes())
	}
	var got []*[2]string // nil for what the other reader refuses
	if err := json.Unmarshal(out, &got); err != nil || len(got) != len(ask) {
		t.Fatalf("node answered %s (%v)", out, err)
	}
	refused := 0
	for i, s := range ask {
		d, err := ParseEDTF(s)
		switch {
		case got[i] == nil && i < examples:
			t.Errorf("%s: the other reader refuses it", s)
		case got[i] == nil && err == nil:
			t.Errorf("%s: read here, refused there", s)
		case got[i] == nil:
			refused++
		case err != nil:
			t.Errorf("refused here, read there: %v", err)
		case d.From.String() != got[i][0] || d.To.String() != got[i][1]:
			t.Errorf("%s: from %s to %s, the other reader has from %s to %s", s, d.From, d.To, got[i][0], got[i][1])
		}
	}
	t.Logf("%d of the %d examples compared, and %d dates drawn, %d of them refused by both", examples, len(specExamples), len(ask)-examples, refused)
}

// drawn is a date or an interval of level 0 or 1, not always one that the calendar has. It has no seasons, which the other reader takes as quarters,
// and no marks beside unspecified digits, which it does not read.
func drawn(r *rand.Rand) string {
	side := func() string {
		y, m, d := 1700+r.IntN(320), 1+r.IntN(13), 1+r.IntN(31)
		s := fmt.Sprintf("%04d", y)
		switch r.IntN(3) {
		case 0:
			s += fmt.Sprintf("-%02d-%02d", m, d)
		case 1:
			s += fmt.Sprintf("-%02d", m)
		}
		return s + []string{"", "", "?", "~", "%"}[r.IntN(5)]
	}
	switch r.IntN(6) {
	case 0:
		return fmt.Sprintf("%03dX", 170+r.IntN(30))
	case 1:
		return fmt.Sprintf("%04d-%02d-XX", 1700+r.IntN(320), 1+r.IntN(12))
	case 2:
		return []string{"../", "/"}[r.IntN(2)] + side()
	case 3:
		return side() + []string{"/..", "/"}[r.IntN(2)]
	case 4:
		return side() + "/" + side()
	}
	return side()
}
