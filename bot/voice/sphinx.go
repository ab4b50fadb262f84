package voice

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

// SphinxModel is where Debian's pocketsphinx-en-us is.
const SphinxModel = "/usr/share/pocketsphinx/model/en-us"

// Sphinx is the offline transcriber: basic, US English only. It reads each note
// twice, with an n-gram model and with a loop of phrases. It has a doubt where the
// loop lacks a number, unit or crop that the model heard, or has two more, and where
// the model itself could nearly as well have heard other ones.
type Sphinx struct {
	modelDir, dir string
	tell          teller
}

// NewSphinx writes the vocabulary into dir and listens with it.
func NewSphinx(lex Lexicon, modelDir, dir string) (*Sphinx, error) {
	v, err := NewVocabulary(lex, modelDir)
	if err != nil {
		return nil, err
	}
	return &Sphinx{modelDir, dir, newTeller(lex)}, v.Write(dir)
}

// Transcribe reads the note twice.
func (s *Sphinx) Transcribe(ctx context.Context, note Note, lang string) (Transcript, error) {
	if lang != "" && lang != "en" {
		return Transcript{}, fmt.Errorf("sphinx has no language %q, English only", lang)
	}
	heard, err := s.hear(ctx, []Sound{note.Sound})
	if err != nil {
		return Transcript{}, err
	}
	return heard[0], nil
}

// hear reads every sound twice.
func (s *Sphinx) hear(ctx context.Context, sounds []Sound) ([]Transcript, error) {
	quiet := make([]Sound, len(sounds))
	for i, sound := range sounds {
		quiet[i] = quieten(sound)
	}
	dict := filepath.Join(s.dir, dictFile)
	const guesses = 100 // more change no verdict
	first, err := s.read(ctx, quiet, dict, guesses, "-lm", filepath.Join(s.dir, modelFile))
	if err != nil {
		return nil, err
	}
	// The loop knows nothing of which phrase follows which, and would rather hear many
	// short words than a long one: each costs it (-wip). Listing its guesses takes minutes.
	second, err := s.read(ctx, quiet, dict, 0, "-jsgf", filepath.Join(s.dir, grammarFile), "-wip", "0.003")
	if err != nil {
		return nil, err
	}
	heard := make([]Transcript, len(sounds))
	for i := range heard {
		heard[i] = s.judge(first[i], second[i])
	}
	return heard, nil
}

// judge says what was heard, and what speaks against it. What has no guesses was not
// heard at all.
func (s *Sphinx) judge(first, second reading) Transcript {
	t := Transcript{Text: tidy(cmp.Or(first.text, second.text))}
	t.Unsure = len(first.guesses) == 0 || s.tell.lame(first.text)
	if !s.tell.bears(second.text, first.text) {
		t.Others = append(t.Others, tidy(second.text))
	}
	if rival, ok := s.tell.rival(first); ok {
		t.Others = append(t.Others, tidy(rival))
	}
	return t
}

// reading is what one pass heard, and all that it may have been where that was asked for.
type reading struct {
	text    string
	guesses []guess
}

// guess is one way to hear a note; the highest score is the likeliest.
type guess struct {
	text  string
	score int
}

// cost is what one pass over the longest note may take; a note of 5 s takes 0.3 s and
// 30 MB.
var cost = bounds{Time: 30 * time.Second, Memory: 512, Out: 64 << 10}

// read runs the recogniser once over several sounds and lists so many guesses of each.
func (s *Sphinx) read(ctx context.Context, sounds []Sound, dict string, guesses int, how ...string) ([]reading, error) {
	dir, err := os.MkdirTemp("", "tankside-voice-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	var list strings.Builder
	for i, sound := range sounds {
		fmt.Fprintf(&list, "%d\n", i)
		if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("%d.wav", i)), sound.WAV(), 0o600); err != nil {
			return nil, err
		}
	}
	control, heard := filepath.Join(dir, "list"), filepath.Join(dir, "heard")
	if err := os.WriteFile(control, []byte(list.String()), 0o600); err != nil {
		return nil, err
	}
	argv := append([]string{"pocketsphinx_batch", "-hmm", filepath.Join(s.modelDir, "en-us"), "-dict", dict,
		"-ctl", control, "-cepdir", dir, "-cepext", ".wav", "-adcin", "yes", "-adchdr", "44", "-hyp", heard, "-logfn", os.DevNull}, how...)
	if guesses > 0 { // zero would list them all
		argv = append(argv, "-nbest", fmt.Sprint(guesses), "-nbestdir", dir)
	}
	b := cost
	b.Time *= time.Duration(len(sounds))
	if _, err := run(ctx, b, nil, argv...); err != nil {
		return nil, err
	}
	text, err := os.ReadFile(heard)
	if err != nil {
		return nil, err
	}
	readings := make([]reading, len(sounds))
	for i, words := range readHeard(string(text), len(sounds)) {
		list, err := os.ReadFile(filepath.Join(dir, fmt.Sprintf("%d.hyp", i)))
		if err != nil && !errors.Is(err, os.ErrNotExist) {
			return nil, err
		}
		readings[i] = reading{words, readGuesses(string(list))}
	}
	return readings, nil
}

// readHeard takes the words from lines of the form "words (id score)".
func readHeard(text string, count int) []string {
	words := make([]string, count)
	for line := range strings.Lines(text) {
		said, id, ok := strings.Cut(strings.TrimSpace(line), "(")
		var i, score int
		if n, _ := fmt.Sscanf(id, "%d %d", &i, &score); ok && n > 0 && i >= 0 && i < count {
			words[i] = strings.TrimSpace(said)
		}
	}
	return words
}

// readGuesses takes the guesses from lines of the form "words score".
func readGuesses(text string) (list []guess) {
	for line := range strings.Lines(text) {
		line = strings.TrimSpace(line)
		at := strings.LastIndexByte(line, ' ')
		if score, err := strconv.Atoi(line[at+1:]); err == nil && at > 0 {
			list = append(list, guess{line[:at], score})
		}
	}
	return list
}
