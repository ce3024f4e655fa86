package index

// A markKey is a reader and a kind of value.
type markKey struct{ reader, kind uint32 }

// met gives the number of a value that a reader has marked, and works it out where the mark is new, or none.
func met(s *sharer, kind int, reader, mark uint32, work func() uint32) uint32 {
	if mark == 0 {
		return work()
	}
	// Numbers of dates begin anew in the high bits for each year near which they lie; most are few.
	k := markKey{reader, uint32(kind) + mark>>24<<8}
	if s.lastMark[kind].key != k || s.lastMark[kind].list == nil {
		list := s.marked[k]
		if list == nil {
			list = new([]uint32)
			s.marked[k] = list
		}
		s.lastMark[kind].key, s.lastMark[kind].list = k, list
	}
	list := s.lastMark[kind].list
	i := int(mark & (1<<24 - 1))
	if i < len(*list) && (*list)[i] != 0 {
		return (*list)[i] - 1
	}
	n := work()
	for len(*list) <= i {
		*list = append(*list, 0)
	}
	(*list)[i] = n + 1
	return n
}
