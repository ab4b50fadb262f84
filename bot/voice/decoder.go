package voice

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"time"
)

const maxSamples = int(MaxLength / time.Second * Rate)

// Decoder turns an ogg/opus voice note into sound. It gives ErrTooLong and
// ErrBroken for what they say, and other errors for what is wrong with us.
type Decoder interface {
	Decode(ctx context.Context, note []byte) (Sound, error)
}

// decoding is what reading a note may cost. The longest takes 0.2 s and 30 MB.
var decoding = bounds{Time: 10 * time.Second, Memory: 256, Out: 2*maxSamples + 2}

// program is a decoder that reads the note from its standard input and writes
// samples at Rate to its standard output.
type program struct{ argv []string }

// OwnDecoder is pure Go and needs nothing installed.
func OwnDecoder() Decoder { return program{[]string{decodeWord}} }

// FFmpegDecoder decodes with ffmpeg. It may read nothing but the note.
func FFmpegDecoder() Decoder {
	return program{[]string{"ffmpeg", "-nostdin", "-loglevel", "error", "-protocol_whitelist", "pipe", "-f", "ogg", "-i", "pipe:0",
		"-t", fmt.Sprint(MaxLength.Seconds() + 0.001), "-ac", "1", "-ar", fmt.Sprint(Rate), "-f", "s16le", "pipe:1"}}
}

func (p program) Decode(ctx context.Context, note []byte) (Sound, error) {
	if len(note) > MaxBytes {
		return nil, ErrTooBig
	}
	if !bytes.HasPrefix(note, []byte("OggS")) {
		return nil, ErrBroken
	}
	out, err := run(ctx, decoding, bytes.NewReader(note), p.argv...)
	switch {
	case errors.Is(err, ErrMissing):
		return nil, err
	case errors.Is(err, errOutput):
		return nil, ErrTooLong
	case ctx.Err() != nil:
		return nil, ctx.Err()
	case err != nil:
		return nil, fmt.Errorf("%w: %v", ErrBroken, err)
	}
	s := soundOf(out)
	if len(s) > maxSamples {
		return nil, ErrTooLong
	}
	if len(s) == 0 {
		return nil, ErrBroken
	}
	return s, nil
}
