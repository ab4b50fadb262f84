package terminal

import (
	"bufio"
	"io"
)

// Lines is where a conversation comes from. Next gives the next line without its
// end, and io.EOF after the last one.
type Lines interface{ Next() (string, error) }

// MaxLine is how much of a line is kept. Nobody says that much; the rest of such a
// line is read and dropped, so that the next line is still the next line.
const MaxLine = 1 << 20

// Reader reads lines of any length and any bytes.
type Reader struct {
	r    *bufio.Reader
	long []byte // the start of a line that is longer than the buffer
}

// NewReader reads lines from r. Before it has to wait for more of r it calls wait,
// unless that is nil: the moment to send out what was answered so far.
func NewReader(r io.Reader, wait func() error) *Reader {
	if wait != nil {
		r = waiting{r, wait}
	}
	return &Reader{r: bufio.NewReaderSize(r, 64<<10)}
}

// waiting calls wait before every read.
type waiting struct {
	io.Reader
	wait func() error
}

func (w waiting) Read(p []byte) (int, error) {
	if err := w.wait(); err != nil {
		return 0, err
	}
	return w.Reader.Read(p)
}

// Next gives the next line. A last line need not be ended; an ended one is not
// followed by an empty one.
func (r *Reader) Next() (string, error) {
	line, err := r.r.ReadSlice('\n')
	if err == bufio.ErrBufferFull {
		line, err = r.rest(line)
	}
	if err == io.EOF && len(line) > 0 {
		err = nil
	}
	if err != nil {
		return "", err
	}
	return string(withoutEnd(line)), nil
}

// rest reads on to the end of a long line.
func (r *Reader) rest(line []byte) ([]byte, error) {
	r.long = r.long[:0]
	for {
		r.long = append(r.long, line[:min(len(line), MaxLine-len(r.long))]...)
		var err error
		if line, err = r.r.ReadSlice('\n'); err != bufio.ErrBufferFull {
			r.long = append(r.long, line[:min(len(line), MaxLine-len(r.long))]...)
			return r.long, err
		}
	}
}

// withoutEnd cuts "\n" or "\r\n" off.
func withoutEnd(line []byte) []byte {
	if n := len(line); n > 0 && line[n-1] == '\n' {
		if line = line[:n-1]; n > 1 && line[n-2] == '\r' {
			line = line[:n-2]
		}
	}
	return line
}
