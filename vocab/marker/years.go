package marker

// telling is the first year whose wordings bound when a stone was cut: those of earlier wars only say that it is later than the war, which the dates on it say better.
const telling = 1850

// credible is the share of the probability whose patterns bound the years of manufacture.
const credible = .9

// made is the interval of years in which the marker can have been made: the years of issue of the patterns that together hold nine
// tenths of the probability, cut by the wording, the emblem and the death. A memorial stone may be cut before no death, and a private stone
// may be set up in life, so for those the death bounds nothing. 0 is open.
func (t *tables) made(b *belief) (from, to int) {
	if b.unknown < .5 {
		from, to = t.issued(b)
	}
	raise := func(y int) {
		if y > from {
			from = y
		}
	}
	for _, i := range b.words.clues {
		if k := t.clues.list[i]; k.bounds == "stone" && k.from >= telling {
			raise(k.from)
		}
	}
	if b.emblem.From > 0 && t.patterns[b.best].Government() {
		raise(b.emblem.From)
	}
	if b.best != t.private && !b.words.memory && b.words.died.from > 0 {
		raise(b.words.died.from)
	}
	if to != 0 && from > to {
		to = 0 // what bounds it from below speaks of this stone, the years of issue of its pattern
	}
	return from, to
}

func (t *tables) issued(b *belief) (from, to int) {
	left := append([]float64(nil), b.pattern...)
	first := true
	for sum := 0.; sum < credible; {
		p, _ := twoBest(left)
		if left[p] <= 0 {
			break
		}
		sum += left[p]
		left[p] = 0
		f, l := t.issuedHere(p, b)
		if first {
			from, to, first = f, l, false
			continue
		}
		if f == 0 || from != 0 && f < from {
			from = f
		}
		if l == 0 || to != 0 && l > to {
			to = l
		}
	}
	return from, to
}

// issuedHere gives the years in which a pattern was furnished for the kind of ground: some went to private cemeteries only later than to national
// ones. An end that would leave next to nothing of that is open, since it bounds the design and not what was still sent out.
func (t *tables) issuedHere(p int, b *belief) (from, to int) {
	if p == t.private {
		return 0, 0
	}
	from, to = t.from[p], t.to[p]
	if y := t.patterns[p].year("private-from"); y != 0 && b.churchyard {
		from = y
		if to != 0 && to < y+5 { // years: as for the pointed stone without the cross, 1929 to 1930
			to = 0
		}
	}
	return from, to
}
