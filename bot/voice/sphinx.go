package voice

import (
	"cmp"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// SphinxModel is where Debian's pocketsphinx-en-us is.
const SphinxModel = "/usr/share/pocketsphinx/model/en-us"

// Sphinx is the offline transcriber: basic, US English only. It reads each note
// twice, with an n-gram model and with a loop of phrases, and has a doubt wherever
// the two do not agree on every number, unit and crop.
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
	first, err := s.read(ctx, quiet, dict, "-lm", filepath.Join(s.dir, modelFile))
	if err != nil {
		return nil, err
	}
	// The loop knows nothing of which phrase follows which, and would rather hear many
	// short words than a long one: each costs it (-wip).
	second, err := s.read(ctx, quiet, dict, "-jsgf", filepath.Join(s.dir, grammarFile), "-wip", "0.003")
	if err != nil {
		return nil, err
	}
	heard := make([]Transcript, len(sounds))
	for i := range heard {
		heard[i].Text = tidy(cmp.Or(first[i], second[i]))
		heard[i].Unsure = s.tell.lame(first[i])
		if !s.tell.same(first[i], second[i]) {
			heard[i].Others = []string{tidy(second[i])}
		}
	}
	return heard, nil
}

// reading is what one pass over the longest note may cost; a note of 5 s takes 0.3 s
// and 30 MB.
var reading = bounds{Time: 30 * time.Second, Memory: 512, Out: 64 << 10}

// read runs the recogniser once over several sounds.
func (s *Sphinx) read(ctx context.Context, sounds []Sound, dict string, how ...string) ([]string, error) {
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
	b := reading
	b.Time *= time.Duration(len(sounds))
	if _, err := run(ctx, b, nil, argv...); err != nil {
		return nil, err
	}
	text, err := os.ReadFile(heard)
	if err != nil {
		return nil, err
	}
	return readHeard(string(text), len(sounds)), nil
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
