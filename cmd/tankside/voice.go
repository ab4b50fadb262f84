package main

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"tankside/bot/voice"
	"tankside/parse"
)

// voiceFlags say who hears voice notes. The key of a speech server is no flag: other
// users of the machine can see flags.
type voiceFlags struct {
	Ear   string `name:"hear" env:"TANKSIDE_HEAR" placeholder:"WHAT" help:"Who hears voice notes: sphinx (basic, English only), the address of a speech server, a command with {wav} or {ogg} and {lang} in it, or off. Without it, sphinx where it is installed. A speech server's key goes into TANKSIDE_HEAR_KEY."`
	Model string `name:"hear-model" env:"TANKSIDE_HEAR_MODEL" placeholder:"NAME" help:"The model to ask a speech server for."`
}

// hearing turns a voice note into words; unsure: they may not be what was said.
type hearing func(ctx context.Context, lang string, ogg io.Reader) (words string, unsure bool, err error)

// atOnce is how many notes are heard at a time; more wait.
const atOnce = 2

const howToHear = "apt-get install pocketsphinx pocketsphinx-en-us, or name a transcriber with --hear"

// hearing makes the ear; nil: there is none. fields gives the names to expect; done
// clears away.
func (f *voiceFlags) hearing(fields func(context.Context) []string) (hear hearing, done func(), err error) {
	var t voice.Transcriber
	done = func() {}
	switch {
	case f.Ear == "off" || f.Ear == "" && !sphinxInstalled():
		return nil, done, nil
	case f.Ear == "" || f.Ear == "sphinx":
		if !sphinxInstalled() {
			return nil, done, hinted{errors.New("sphinx is not installed"), howToHear}
		}
		late := &lateSphinx{fields: fields}
		t, done = late, func() { os.RemoveAll(late.dir) }
	case strings.HasPrefix(f.Ear, "http://"), strings.HasPrefix(f.Ear, "https://"):
		t = voice.HTTP{URL: f.Ear, Model: f.Model, Key: os.Getenv("TANKSIDE_HEAR_KEY")}
	case strings.Contains(f.Ear, "{wav}"), strings.Contains(f.Ear, "{ogg}"):
		t = voice.Command{Argv: strings.Fields(f.Ear)}
	default:
		return nil, done, hinted{fmt.Errorf("%q hears nothing", f.Ear), "--hear takes sphinx, off, an http address, or a command with {wav} or {ogg} in it"}
	}
	ear := voice.NewEar(t, voice.OwnDecoder(), atOnce)
	return func(ctx context.Context, lang string, ogg io.Reader) (string, bool, error) {
		heard, err := ear.Hear(ctx, ogg, lang)
		return heard.Text, heard.Doubtful(), err
	}, done, nil
}

func sphinxInstalled() bool {
	_, err := exec.LookPath("pocketsphinx_batch")
	_, err2 := os.Stat(filepath.Join(voice.SphinxModel, "cmudict-en-us.dict"))
	return err == nil && err2 == nil
}

// lateSphinx learns its vocabulary with the first note: it takes a moment, and most
// farms never send one.
type lateSphinx struct {
	fields func(context.Context) []string
	once   sync.Once
	sphinx *voice.Sphinx
	dir    string
	err    error
}

// Transcribe learns first, once.
func (l *lateSphinx) Transcribe(ctx context.Context, note voice.Note, lang string) (voice.Transcript, error) {
	l.once.Do(func() {
		lex, err := lexicon(l.fields(ctx))
		if err != nil {
			l.err = err
			return
		}
		if l.dir, l.err = os.MkdirTemp("", "tankside-vocabulary-"); l.err == nil {
			l.sphinx, l.err = voice.NewSphinx(lex, voice.SphinxModel, l.dir)
		}
	})
	if l.err != nil {
		return voice.Transcript{}, l.err
	}
	return l.sphinx.Transcribe(ctx, note, lang)
}

// lexicon is the English words that the bot reads, and the farm's names.
func lexicon(fields []string) (lex voice.Lexicon, err error) {
	words, err := parse.Lexicon("en")
	if err != nil {
		return lex, err
	}
	for _, w := range words {
		lex.Entries = append(lex.Entries, voice.Entry{Class: w.Class, Key: w.Key, Phrases: w.Phrases})
	}
	slices.Sort(fields)
	lex.Fields = slices.Compact(fields)
	return lex, nil
}

// speaking makes the voice of spoken answers; nil: this machine has none.
func speaking() func(ctx context.Context, lang, text string) (ogg []byte, seconds int, err error) {
	if _, err := exec.LookPath("espeak-ng"); err != nil {
		return nil
	}
	return func(ctx context.Context, lang, text string) ([]byte, int, error) {
		note, err := voice.Espeak{}.Speak(ctx, text, lang)
		return note, oggSeconds(note), err
	}
}

// oggSeconds is how long an opus note is: the last page says how many samples there
// were by its end, 48,000 a second, rounded up.
func oggSeconds(note []byte) int {
	const rate, position = 48000, 6
	last := bytes.LastIndex(note, []byte("OggS"))
	if last < 0 || len(note) < last+position+8 {
		return 0
	}
	samples := binary.LittleEndian.Uint64(note[last+position:])
	return int((samples + rate - 1) / rate)
}
