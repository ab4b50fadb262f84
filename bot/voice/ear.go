package voice

import (
	"context"
	"errors"
	"fmt"
	"io"
)

// Ear hears voice notes, each within its bounds and a few at a time.
type Ear struct {
	transcriber Transcriber
	decoder     Decoder
	turns       chan struct{} // one is taken while a note is heard
	queue       chan struct{} // one is taken while a note waits or is heard
}

// NewEar makes an ear for so many notes at a time; of the rest a few dozen may wait.
// Without a transcriber it says ErrOff to all.
func NewEar(t Transcriber, d Decoder, parallel int) *Ear {
	const waiting = 64
	return &Ear{t, d, make(chan struct{}, parallel), make(chan struct{}, parallel+waiting)}
}

// Hear reads one ogg/opus voice note and says what was said. The reader is not
// trusted to end.
func (e *Ear) Hear(ctx context.Context, ogg io.Reader, lang string) (Transcript, error) {
	if e == nil || e.transcriber == nil {
		return Transcript{}, ErrOff
	}
	select {
	case e.queue <- struct{}{}:
		defer func() { <-e.queue }()
	default:
		return Transcript{}, ErrBusy
	}
	note, err := io.ReadAll(io.LimitReader(ogg, MaxBytes+1))
	if err != nil {
		return Transcript{}, fmt.Errorf("fetch the voice note: %w", err)
	}
	if len(note) > MaxBytes {
		return Transcript{}, ErrTooBig
	}
	select {
	case e.turns <- struct{}{}:
		defer func() { <-e.turns }()
	case <-ctx.Done():
		return Transcript{}, ctx.Err()
	}
	return e.listen(ctx, note, lang)
}

func (e *Ear) listen(ctx context.Context, note []byte, lang string) (Transcript, error) {
	sound, err := e.decoder.Decode(ctx, note)
	if err != nil {
		return Transcript{}, err
	}
	heard, err := e.transcriber.Transcribe(ctx, Note{note, sound}, lang)
	if err != nil {
		return Transcript{}, fmt.Errorf("transcribe: %w", err)
	}
	if heard.Text = tidy(heard.Text); heard.Text == "" {
		return Transcript{}, ErrNothing
	}
	return heard, nil
}

// Fault says whether an error is about the note, to be told to its sender, rather
// than about us.
func Fault(err error) bool {
	for _, known := range []error{ErrTooBig, ErrTooLong, ErrBroken, ErrNothing} {
		if errors.Is(err, known) {
			return true
		}
	}
	return false
}
