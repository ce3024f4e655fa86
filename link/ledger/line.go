package ledger

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"regexp"
	"strings"
	"time"
	"unicode/utf8"

	"musterstone/model"
)

// line is a line of the file without its sum, which is put behind it as bytes.
type line struct {
	model.Decision
	Prev string `json:"prev,omitempty"`
}

// summed is a line as it is read.
type summed struct {
	line
	Sum string `json:"sum"`
}

const sumDigits = 16

var sumTail = regexp.MustCompile(`,"sum":"([0-9a-f]{16})"\}$`)

// sumOf is the sum of a line's bytes before its member sum.
func sumOf(head []byte) string {
	h := sha256.Sum256(head)
	return hex.EncodeToString(h[:])[:sumDigits]
}

// encode gives the whole line, line feed included, and its sum.
func encode(d model.Decision, prev string) (text []byte, sum string, err error) {
	head, err := plain(line{d, prev})
	if err != nil {
		return nil, "", fmt.Errorf("write decision %s as JSON: %w", d.ID, err)
	}
	head = head[:len(head)-1]
	sum = sumOf(head)
	return append(head, `,"sum":"`+sum+"\"}\n"...), sum, nil
}

// plain is JSON in which "&", "<" and ">" stand as they are: people read these lines.
func plain(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		return nil, err
	}
	return bytes.TrimSuffix(b.Bytes(), []byte("\n")), nil
}

// identify gives the id of a decision: its time, then a digest of everything else it says, of the number of hex digits asked.
func identify(d model.Decision, digits int) (string, error) {
	d.ID = ""
	b, err := plain(d)
	if err != nil {
		return "", fmt.Errorf("write decision on stone %q as JSON: %w", d.Stone, err)
	}
	h := sha256.Sum256(b)
	return d.At.UTC().Format("20060102T150405Z") + "-" + hex.EncodeToString(h[:])[:min(digits, 64)], nil
}

// fault says why a line does not count, or, where mild is set, what is odd about one that does.
type fault struct {
	text, hint string
	mild       bool
}

// decode reads one line, without its line feed. The sum is that which the line carries, right or wrong; "" where it
// carries none. The decision is to be used only where fault is nil or mild.
func decode(raw []byte) (d model.Decision, prev, sum string, f *fault) {
	raw = bytes.TrimRight(raw, "\r")
	if m := sumTail.FindSubmatch(raw); m != nil {
		sum = string(m[1])
	}
	if marker := conflictMarker(raw); marker != "" {
		return d, "", sum, &fault{text: fmt.Sprintf("a mark of an unfinished merge, %q", marker),
			hint: "delete the lines of marks and keep the decisions of both sides: every one of them counts"}
	}
	if !utf8.Valid(raw) {
		return d, "", sum, &fault{text: "the line is not UTF-8 text", hint: hintDamaged}
	}
	var s summed
	if err := json.Unmarshal(raw, &s); err != nil {
		return d, "", sum, &fault{text: fmt.Sprintf("the line is not one whole JSON object: %v", err), hint: hintDamaged}
	}
	d, prev, sum = s.Decision, s.Prev, s.Sum
	d.At = d.At.UTC()
	if sum != "" {
		if f = checkSum(raw, s); f != nil && !f.mild {
			return d, prev, sum, f
		}
	} else {
		f = &fault{text: fmt.Sprintf("decision %s carries no checksum, so damage to it could not be noticed", d.ID), mild: true,
			hint: "written by hand? then it counts as it stands"}
	}
	if bad := lacks(d); bad != "" {
		return d, prev, sum, &fault{text: bad, hint: "mend the line, or make the decision anew"}
	}
	return d, prev, sum, f
}

const hintDamaged = "it does not count; restore it from a copy, or make the decision anew"

func checkSum(raw []byte, s summed) *fault {
	if at := sumTail.FindIndex(raw); at != nil && sumOf(raw[:at[0]]) == s.Sum {
		return nil
	}
	if head, err := plain(s.line); err == nil && sumOf(head[:len(head)-1]) == s.Sum {
		return &fault{text: fmt.Sprintf("decision %s was laid out anew by another program; what it says is as it was", s.ID), mild: true,
			hint: "nothing need be done"}
	}
	return &fault{text: fmt.Sprintf("decision %q does not agree with its checksum %s: it was damaged, or changed by hand", s.ID, s.Sum),
		hint: `it does not count; restore it from a copy, or make the decision anew, or, if the change was meant, take its member "sum" out`}
}

// lacks names what a line's decision must have and has not; "" where it has all.
func lacks(d model.Decision) string {
	switch bad := wants(d, "decision "+d.ID); {
	case d.ID == "":
		return "the decision has no id"
	case bad != "":
		return bad
	case d.At.IsZero():
		return fmt.Sprintf("decision %s does not say when it was made", d.ID)
	}
	return ""
}

// wants is lacks for what a person says in a decision; called is how it is to be called.
func wants(d model.Decision, called string) string {
	switch {
	case d.Stone == "":
		return called + " names no stone"
	case d.Record == "" && needsRecord(d.As):
		return called + " names no record"
	case d.Record != "" && (d.As == model.NoneOfThese || d.As == model.Unsure):
		return fmt.Sprintf("%s: verdict %q is on a stone as a whole, but it names record %q", called, d.As, d.Record)
	case d.As == model.Noted && strings.TrimSpace(d.Because) == "":
		return called + " is a note and says nothing"
	case strings.TrimSpace(d.By) == "":
		return called + " does not say who made it"
	case !needsRecord(d.As) && d.As != model.Withdrawn && d.As != model.NoneOfThese && d.As != model.Unsure && d.As != model.Noted:
		return fmt.Sprintf("%s: verdict %q is not known; want confirmed, refused, none, unsure, noted or withdrawn", called, d.As)
	}
	return ""
}

// needsRecord reports whether a decision of that verdict must name a record.
func needsRecord(v model.Verdict) bool { return v == model.Confirmed || v == model.Refused }

func conflictMarker(raw []byte) string {
	for _, m := range []string{"<<<<<<<", "=======", ">>>>>>>", "|||||||"} {
		if bytes.HasPrefix(raw, []byte(m)) {
			return m
		}
	}
	return ""
}

// second cuts a moment to what a line can hold.
func second(t time.Time) time.Time { return t.UTC().Truncate(time.Second) }
