package job

import (
	"context"
	"encoding/binary"
	"encoding/json"
	"errors"
	"hash/crc32"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"musterstone/index"
	"musterstone/link"
	"musterstone/model"
)

// TestWeighed: a run after decisions, and one at another precision, says what it would say without what an earlier run weighed, in which it has found all stones and rows; what is
// damaged, or of other stones, is passed by.
func TestWeighed(t *testing.T) {
	dir := t.TempDir()
	if err := (survey{maker: "haven", records: 4000, stones: 700, messy: true, seed: 12}).write(dir); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, index.DerivedFolder, weighedFile)
	run := func(precision float64) (told []model.Proposal, complaints []model.Complaint, read bool) {
		t.Helper()
		j, err := Open(dir, Options{Program: "test"})
		if err != nil {
			t.Fatal(err)
		}
		defer j.Close()
		err = j.Each(context.Background(), precision, func(s *link.Told) func() error {
			return func() error { told = append(told, s.Proposals...); return nil }
		})
		if err != nil {
			t.Fatal(err)
		}
		for _, part := range j.timings.list {
			read = read || part.Stage == "reading inscriptions"
		}
		return told, j.Complaints(), read
	}
	same := func(what string, got, want []model.Proposal) {
		t.Helper()
		if len(got) != len(want) {
			t.Fatalf("%s: %d proposals, want %d", what, len(got), len(want))
		}
		for i := range want {
			if said(t, got[i]) != said(t, want[i]) {
				t.Fatalf("%s, stone %s:\ngot  %s\nwant %s", what, want[i].Stone, said(t, got[i]), said(t, want[i]))
			}
		}
	}
	first, complaints, read := run(0)
	if !read {
		t.Error("the first run reads no inscription")
	}
	again, complaintsAgain, read := run(0)
	same("again", again, first)
	if read || !slices.Equal(complaints, complaintsAgain) {
		t.Errorf("the second run: inscriptions read %v, complaints %v, want %v", read, complaintsAgain, complaints)
	}
	j, err := Open(dir, Options{Program: "test"})
	if err != nil {
		t.Fatal(err)
	}
	l, err := j.Ledger()
	if err != nil {
		t.Fatal(err)
	}
	top := func(i int) model.RecordID { return first[i].Candidates[0].Record }
	for _, d := range []model.Decision{{Stone: first[1].Stone, Record: top(1), As: model.Confirmed}, {Stone: first[2].Stone, Record: top(2), As: model.Refused},
		{Stone: first[3].Stone, As: model.NoneOfThese}, {Stone: first[4].Stone, Record: top(600), As: model.Confirmed}} {
		d.By = "A. Reader"
		if _, err := l.Append(d); err != nil {
			t.Fatal(err)
		}
	}
	j.Close()
	after, _, read := run(0)
	surer, _, readSurer := run(0.999)
	if read || readSurer {
		t.Error("after decisions inscriptions are read")
	}
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	want, _, read := run(0)
	same("after decisions", after, want)
	if !read {
		t.Error("without what was kept no inscription is read")
	}
	want, _, _ = run(0.999)
	same("surer", surer, want)

	whole, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for _, at := range []int{0, len(whole) / 3, len(whole) / 2, len(whole) - keptEnd - 10, len(whole) - 1} {
		b := slices.Clone(whole)
		b[at] ^= 1
		if err := os.WriteFile(path, b, 0o666); err != nil {
			t.Fatal(err)
		}
		if err := wholeWeighed(path); !errors.Is(err, errKept) {
			t.Errorf("with byte %d changed: %v", at, err)
		}
		got, _, _ := run(0.999)
		same("damaged", got, want)
		run(0.999)
		if err := wholeWeighed(path); err != nil {
			t.Errorf("with byte %d changed, after two runs: %v", at, err)
		}
	}
	stones, err := os.ReadFile(filepath.Join(dir, "stones.csv"))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "stones.csv"), stones[:1+slices.Index(stones[len(stones)/2:], '\n')+len(stones)/2], 0o666); err != nil {
		t.Fatal(err)
	}
	if got, _, read := run(0); !read || len(got) >= len(want) {
		t.Errorf("with other stones: inscriptions read %v, %d proposals", read, len(got))
	}
}

// TestWeighedTold: a run that reads what was weighed complains of the stones as the first did; one that broke off keeps nothing; blocks of other lengths than those written are no blocks.
func TestWeighedTold(t *testing.T) {
	dir := lay(t)
	stones, err := os.OpenFile(filepath.Join(dir, "stones.csv"), os.O_APPEND|os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := stones.WriteString("\ns1\ns1\n"); err != nil {
		t.Fatal(err)
	}
	if err := stones.Close(); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, index.DerivedFolder, weighedFile)
	run := func(fault error) (complaints []model.Complaint) {
		t.Helper()
		j, err := Open(dir, Options{Program: "test"})
		if err != nil {
			t.Fatal(err)
		}
		defer j.Close()
		if err := j.Each(context.Background(), 0, func(*link.Told) func() error { return func() error { return fault } }); !errors.Is(err, fault) {
			t.Fatal(err)
		}
		return j.Complaints()
	}
	run(errors.New("the printer is out of paper"))
	if _, err := os.Stat(path); err == nil {
		t.Error("a run that broke off has kept what it weighed")
	}
	first := run(nil)
	if !slices.ContainsFunc(first, func(c model.Complaint) bool { return c.File == "stones.csv" }) {
		t.Fatalf("no stone is complained of: %v", first)
	}
	if again := run(nil); !slices.Equal(first, again) {
		t.Errorf("complaints %v, and again %v", first, again)
	}
	r, err := openWeighed(path)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	whole, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	b := append(slices.Clone(whole[:r.end]), slices.Concat(r.places, r.places)...)
	table := r.table
	table.Blocks, table.Places = slices.Concat(table.Blocks, table.Blocks), partOf(r.end, b[r.end:])
	text, err := json.Marshal(table)
	if err != nil {
		t.Fatal(err)
	}
	end := binary.LittleEndian.AppendUint64(nil, uint64(len(b)))
	end = binary.LittleEndian.AppendUint64(end, uint64(len(text)))
	end = binary.LittleEndian.AppendUint32(end, crc32.ChecksumIEEE(text))
	if err := os.WriteFile(path, slices.Concat(b, text, end), 0o666); err != nil {
		t.Fatal(err)
	}
	if err := wholeWeighed(path); !errors.Is(err, errKept) {
		t.Errorf("with two blocks that are not full: %v", err)
	}
	j, err := Open(dir, Options{Program: "test"})
	if err != nil {
		t.Fatal(err)
	}
	if mended := j.MendKept(); !slices.ContainsFunc(mended, func(d index.Derived) bool { return d.Name == weighedFile && d.Mended }) {
		t.Errorf("mending what is derived came to %+v", mended)
	}
}
