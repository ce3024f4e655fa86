package rdf

import "bytes"

// lineQueue hands lines to an NTriplesWriter that works in a goroutine of its own, many at a time, so that digest and disk do not hold up the
// caller.
type lineQueue struct {
	chunk  []byte
	full   chan []byte
	done   chan error
	closed bool
	err    error
}

const queueChunk = 256 << 10

func newLineQueue(w *NTriplesWriter) *lineQueue {
	q := &lineQueue{full: make(chan []byte, 4), done: make(chan error, 1)}
	go func() {
		var err error
		for chunk := range q.full {
			for len(chunk) > 0 && err == nil {
				n := bytes.IndexByte(chunk, '\n') + 1
				err = w.writeLine(chunk[:n])
				chunk = chunk[n:]
			}
		}
		q.done <- err
	}()
	return q
}

// line takes a line with its line feed. A fault of the writer is told by close.
func (q *lineQueue) line(line []byte) {
	q.chunk = append(q.chunk, line...)
	if len(q.chunk) >= queueChunk {
		q.full <- q.chunk
		q.chunk = make([]byte, 0, queueChunk+4096)
	}
}

// close waits until all is written. It may be called again, and says the same.
func (q *lineQueue) close() error {
	if !q.closed {
		q.closed = true
		if len(q.chunk) > 0 {
			q.full <- q.chunk
		}
		close(q.full)
		q.err = <-q.done
	}
	return q.err
}
