package voice

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// Command transcribes with a program of the operator's. Its arguments may hold
// {wav} and {ogg}, the note as a file, and {lang}, the language's code. There is no
// shell: an argument stays one, whatever it holds. The words are what the program
// writes to its standard output.
type Command struct {
	Argv   []string
	Limit  time.Duration // 0: 20 s
	Memory int           // MB; 0: 4,096
}

// Transcribe runs the program.
func (c Command) Transcribe(ctx context.Context, note Note, lang string) (Transcript, error) {
	if len(c.Argv) == 0 {
		return Transcript{}, errors.New("no program to run")
	}
	dir, err := os.MkdirTemp("", "tankside-voice-")
	if err != nil {
		return Transcript{}, err
	}
	defer os.RemoveAll(dir)
	wav, ogg := filepath.Join(dir, "note.wav"), filepath.Join(dir, "note.ogg")
	if err := errors.Join(os.WriteFile(wav, note.Sound.WAV(), 0o600), os.WriteFile(ogg, note.Ogg, 0o600)); err != nil {
		return Transcript{}, err
	}
	argv := slices.Clone(c.Argv)
	fill := strings.NewReplacer("{wav}", wav, "{ogg}", ogg, "{lang}", languageOr(lang))
	for i := range argv {
		argv[i] = fill.Replace(argv[i])
	}
	b := bounds{Time: c.Limit, Memory: c.Memory, Out: 64 << 10}
	if b.Time == 0 {
		b.Time = 20 * time.Second
	}
	if b.Memory == 0 {
		b.Memory = 4096
	}
	out, err := run(ctx, b, nil, argv...)
	return Transcript{Text: tidy(string(out))}, err
}

// languageOr is English where nothing is known, and never anything but a code.
func languageOr(lang string) string {
	for _, r := range lang {
		if r < 'a' || r > 'z' {
			return "en"
		}
	}
	if lang == "" {
		return "en"
	}
	return lang
}
