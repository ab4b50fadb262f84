package voice

import (
	"bytes"
	"context"
	"encoding/csv"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

func TestMain(m *testing.M) {
	Child(os.Args)
	os.Exit(m.Run())
}

// lines reads a list of sentences, without comments.
func lines(t testing.TB, name string) (list []string) {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("..", "..", "testdata", "voice", name))
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(b)) {
		if line = strings.TrimSpace(line); line != "" && line[0] != '#' {
			list = append(list, line)
		}
	}
	return list
}

// botLexicon is what cmd hands over, read from the file that it comes from.
func botLexicon(t testing.TB) (lex Lexicon) {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "parse", "lexicon", "en.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment, r.FieldsPerRecord = '#', 3
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows {
		lex.Entries = append(lex.Entries, Entry{row[0], row[1], strings.Split(row[2], "|")})
	}
	return lex
}

// speak lets a voice say something.
func speak(t testing.TB, voice, text string) Sound {
	t.Helper()
	file := filepath.Join(t.TempDir(), "said.wav")
	argv := []string{"flite", "-voice", voice, "-t", text, "-o", file}
	if voice == "espeak" {
		argv = []string{"espeak-ng", "-v", "en-us", "-s", "140", "-w", file, "--", text}
	}
	if _, err := run(context.Background(), bounds{Time: 20 * time.Second, Memory: 256, Out: 1 << 16}, nil, argv...); err != nil {
		t.Fatal(err)
	}
	b, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	s, err := FromWAV(b)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// padded puts a little silence around, as everybody leaves who presses a button.
func padded(s Sound) Sound {
	quiet := make(Sound, Rate*3/10)
	return append(append(append(Sound{}, quiet...), s...), quiet...)
}

// asNote makes a voice note of it and decodes it the way the bot does.
func asNote(t testing.TB, s Sound) Note {
	t.Helper()
	note, err := EncodeOpus(s)
	if err != nil {
		t.Fatal(err)
	}
	var pcm bytes.Buffer
	if err := decodeOpus(bytes.NewReader(note), &pcm); err != nil {
		t.Fatal(err)
	}
	return Note{note, soundOf(pcm.Bytes())}
}
