// Package voice turns voice notes into words and answers into voice notes.
//
//	ogg/opus → Decoder (a child process with limits) → Sound → Transcriber → Transcript
//	words for the ear → Speaker → ogg/opus
//
// An Ear does the first line with every bound that untrusted sound needs. Three
// transcribers can be chosen: a program of the operator's, an HTTP endpoint in the
// shape that local speech servers share, and Sphinx, the offline one made of Debian
// packages, basic and English only.
//
// Deliberately not here: fetching notes, what the words mean, and the bot's own
// words, which come from outside as a Lexicon.
package voice

import (
	"context"
	"errors"
	"strings"
	"time"
)

// What a note may be at most. Longer ones are refused, not cut: half a sentence
// can say the opposite of the whole.
const (
	MaxBytes  = 2 << 20
	MaxLength = 60 * time.Second
)

// What can be wrong with a note, to be told to whoever sent it.
var (
	ErrOff     = errors.New("no transcriber is set up")
	ErrTooBig  = errors.New("the voice note is too big")
	ErrTooLong = errors.New("the voice note is too long")
	ErrBroken  = errors.New("the voice note is not readable")
	ErrNothing = errors.New("no words were heard")
	ErrBusy    = errors.New("too many voice notes are waiting")
)

// Transcript is what was heard.
type Transcript struct {
	Text string
	// Others are readings of the same note with other numbers, units or crops. As
	// long as there is one, what was heard must be asked about, not acted on.
	Others []string
	// Unsure is set by an engine that says itself that it is not sure.
	Unsure bool
}

// Doubtful says that the transcript must be confirmed before anything rests on it.
func (t Transcript) Doubtful() bool { return t.Unsure || len(t.Others) > 0 }

// Transcriber turns sound into words. The language is a code such as "en"; an
// engine that does not have it says so with an error.
type Transcriber interface {
	Transcribe(ctx context.Context, note Note, lang string) (Transcript, error)
}

// Note is one voice note, as it came and decoded.
type Note struct {
	Ogg   []byte
	Sound Sound
}

// tidy puts what an engine wrote on one line, without control characters and not
// longer than anybody talks in a note.
func tidy(text string) string {
	const most = 2000
	text = strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(text, " "))
	text = strings.Join(strings.Fields(text), " ")
	if len(text) > most {
		text = strings.ToValidUTF8(text[:most], "")
	}
	return text
}
