package weigh

import (
	"encoding/binary"
	"strings"

	"musterstone/model"
	"musterstone/model/date"
)

// encoder appends values to bytes, decoder takes them off a text in the same order. Numbers are varints; texts have their length before them.
type encoder struct{ b []byte }

func (e *encoder) count(n int) { e.b = binary.AppendUvarint(e.b, uint64(n)) }

func (e *encoder) ints(list ...int) {
	for _, n := range list {
		e.b = binary.AppendVarint(e.b, int64(n))
	}
}

func (e *encoder) flags(list ...bool) {
	var b byte
	for i, set := range list {
		if set {
			b |= 1 << i
		}
	}
	e.b = append(e.b, b)
}

func (e *encoder) text(s string) {
	e.count(len(s))
	e.b = append(e.b, s...)
}

func (e *encoder) texts(list []string) {
	e.count(len(list))
	for _, s := range list {
		e.text(s)
	}
}

func (e *encoder) date(d *date.Date) {
	e.text(d.EDTF)
	if d.EDTF == "" {
		return
	}
	e.ints(d.From.Year, d.From.Month, d.From.Day, d.To.Year, d.To.Month, d.To.Day)
	e.flags(d.Approximate, d.Uncertain)
	e.text(d.Written)
}

func (e *encoder) unit(u *model.Unit) {
	for _, s := range [...]string{string(u.Body), string(u.State), string(u.Arm), string(u.Kind), u.Company, u.Name, u.NumberLost, strings.Join(u.Marks, " ")} {
		e.text(s)
	}
	e.ints(u.Number, u.Division)
}

// decoder is bad from the first value on that is not there; what it gives then means nothing.
type decoder struct {
	s   string
	bad bool
}

// count gives a length, which is never more than the bytes that are left.
func (d *decoder) count() int {
	n := d.uvarint()
	if n > uint64(len(d.s)) {
		d.fail()
		return 0
	}
	return int(n)
}

func (d *decoder) fail() { d.s, d.bad = "", true }

func (d *decoder) uvarint() uint64 {
	if len(d.s) > 0 && d.s[0] < 0x80 {
		n := uint64(d.s[0])
		d.s = d.s[1:]
		return n
	}
	var x uint64
	for i := range min(len(d.s), binary.MaxVarintLen64) {
		b := d.s[i]
		x |= uint64(b&0x7f) << (7 * i)
		if b < 0x80 {
			d.s = d.s[i+1:]
			return x
		}
	}
	d.fail()
	return 0
}

func (d *decoder) int() int {
	u := d.uvarint()
	n := int64(u >> 1)
	if u&1 != 0 {
		n = ^n
	}
	return int(n)
}

func (d *decoder) flags(list ...*bool) {
	if d.s == "" {
		d.fail()
		return
	}
	for i, set := range list {
		*set = d.s[0]>>i&1 != 0
	}
	d.s = d.s[1:]
}

func (d *decoder) text() string {
	n := d.count()
	s := d.s[:n]
	d.s = d.s[n:]
	return s
}

func (d *decoder) texts() []string {
	list := make([]string, d.count())
	for i := range list {
		list[i] = d.text()
	}
	return list
}

func (d *decoder) date(v *date.Date) {
	v.EDTF = d.text()
	if v.EDTF == "" {
		return
	}
	v.From = date.Day{Year: d.int(), Month: d.int(), Day: d.int()}
	v.To = date.Day{Year: d.int(), Month: d.int(), Day: d.int()}
	d.flags(&v.Approximate, &v.Uncertain)
	v.Written = d.text()
}

func (d *decoder) unit(u *model.Unit) {
	u.Body, u.State, u.Arm, u.Kind = model.Body(d.text()), model.State(d.text()), model.Arm(d.text()), model.UnitKind(d.text())
	u.Company, u.Name, u.NumberLost = d.text(), d.text(), d.text()
	u.Marks = strings.Fields(d.text())
	u.Number, u.Division = d.int(), d.int()
}
