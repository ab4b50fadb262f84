package main

import (
	"bytes"
	"context"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"
	"unicode"

	"tankside/bot"
	"tankside/bot/voice"
	"tankside/engine"
)

// needs fails, and says what to install: a check that is left out looks like one that
// passed.
func needs(t *testing.T, programs ...string) {
	t.Helper()
	for _, p := range programs {
		if _, err := exec.LookPath(p); err != nil {
			t.Fatalf("%s is missing: apt-get install %s", p, strings.TrimSuffix(p, "_batch"))
		}
	}
}

// voiceNote has a voice say something and gives the file of the note.
func voiceNote(t *testing.T, by, text string) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "said.wav")
	if out, err := exec.Command("flite", "-voice", by, "-t", text, "-o", file).CombinedOutput(); err != nil {
		t.Fatalf("flite: %v: %s", err, out)
	}
	wav, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	s, err := voice.FromWAV(wav)
	if err != nil {
		t.Fatal(err)
	}
	return voiceNoteOf(t, append(append(make(voice.Sound, voice.Rate/3), s...), make(voice.Sound, voice.Rate/3)...))
}

// say runs the terminal chat over lines and gives what it prints.
func say(t *testing.T, flags []string, lines ...string) string {
	t.Helper()
	var out, complaints bytes.Buffer
	args := append([]string{"chat", "--db", ":memory:"}, flags...)
	if code := run(args, &term{In: strings.NewReader(strings.Join(lines, "\n") + "\n"), Out: &out, Err: &complaints}); code != 0 {
		t.Fatalf("exit status %d: %s", code, complaints.String())
	}
	return out.String() + complaints.String()
}

// From the synthesiser's voice to the answer, through the program: what is answered is
// what the same words typed get, and what was not heard for sure is only shown.
func TestVoiceToAnswer(t *testing.T) {
	needs(t, "flite", "pocketsphinx_batch", "espeak-ng")
	answered := 0
	for i, said := range []string{
		"three thousand gallon tank seven thousand per acre ryegrass twelve pounds",
		"four thousand gallon tank at eight thousand gallons per acre",
		"six hundred gallons per minute twelve feet three point five miles an hour",
		"how fast for seven thousand an acre at six hundred gallons a minute and twelve feet",
	} {
		want := bot.Ask(bot.Message{Text: said})
		got := say(t, []string{"--hear", "sphinx"}, "voice "+voiceNote(t, []string{"rms", "slt"}[i%2], said))
		first, _, _ := strings.Cut(want.Text, "\n")
		switch {
		case strings.Contains(got, first):
			answered++
		case !strings.Contains(got, "not sure"):
			t.Errorf("%q was answered with %q, want %q or a question", said, got, first)
		}
	}
	if answered < 2 {
		t.Errorf("%d of 4 clear questions were answered", answered)
	}
}

func voiceNoteOf(t *testing.T, s voice.Sound) string {
	t.Helper()
	note, err := voice.EncodeOpus(s)
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "note.ogg")
	if err := os.WriteFile(file, note, 0o600); err != nil {
		t.Fatal(err)
	}
	return file
}

// However much there is to hear, who types is answered at once.
func TestTextWhileVoiceNotesWait(t *testing.T) {
	needs(t, "pocketsphinx_batch", "espeak-ng")
	hear, done, err := (&voiceFlags{Ear: "sphinx"}).hearing(func(context.Context) []string { return nil })
	if err != nil {
		t.Fatal(err)
	}
	defer done()
	chance := rand.New(rand.NewPCG(1, 1))
	babble := make(voice.Sound, 55*voice.Rate)
	for i := range babble {
		babble[i] = int16(chance.IntN(8000)) - 4000
	}
	note, err := os.ReadFile(voiceNoteOf(t, babble))
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	var waiting sync.WaitGroup
	const notes = 655 // ten hours
	for range notes {
		waiting.Go(func() {
			hear(ctx, "en", bytes.NewReader(note))
		})
	}
	var slowest time.Duration
	for range 100 {
		start := time.Now()
		if r := bot.Ask(bot.Message{Text: "3000 gallon tank, 7000 per acre, ryegrass 12 lb"}); r.Outcome.Status != engine.Answered {
			t.Fatal(r.Text)
		}
		slowest = max(slowest, time.Since(start))
		time.Sleep(20 * time.Millisecond)
	}
	stop()
	waiting.Wait()
	t.Logf("slowest answer: %v", slowest)
	if slowest > 200*time.Millisecond {
		t.Errorf("an answer took %v", slowest)
	}
}

// A driver who does not look up must hear the numbers. The recogniser stands in for
// him: it hears the bot's own voice, through opus, and most number words come back (43 of
// 54 when this was written). It does not know all words of an answer, so one number that
// it misses is no proof against the voice.
func TestSpokenAnswersAreHeard(t *testing.T) {
	needs(t, "pocketsphinx_batch", "espeak-ng")
	hear, done, err := (&voiceFlags{Ear: "sphinx"}).hearing(func(context.Context) []string { return nil })
	if err != nil {
		t.Fatal(err)
	}
	defer done()
	numbers := numberWords(t)
	speak := speaking()
	said, back := 0, 0
	for _, question := range []string{
		"3000 gallon tank, 7000 per acre", "600 gpm, 12 ft, 3.5 mph", "how fast for 7000 an acre at 600 gpm and 12 ft",
		"2000 gallon tank, 4000 gal/ac", "88 feet in 12 seconds", "my tank is 4000 gallons",
		"how many loads for 40 acres at 6000 gal/ac with a 4000 gal tank",
	} {
		text := bot.Ask(bot.Message{Text: question}).Speech()
		ogg, seconds, err := speak(t.Context(), "en", text)
		if err != nil {
			t.Fatal(err)
		}
		if words := len(strings.Fields(text)); seconds < words/4 || seconds > words {
			t.Errorf("%d words took %d s: %q", words, seconds, text)
		}
		heard, _, err := hear(t.Context(), "en", bytes.NewReader(ogg))
		if err != nil {
			t.Fatal(err)
		}
		want, got := numbers(text), numbers(heard)
		t.Logf("%q: %d of %d number words, heard %q", text, inOrder(want, got), len(want), heard)
		said, back = said+len(want), back+inOrder(want, got)
	}
	t.Logf("%d of %d number words came back", back, said)
	if back*10 < said*7 {
		t.Errorf("%d of %d number words came back, want seven in ten", back, said)
	}
}

// numberWords makes a filter that leaves the number words of a text.
func numberWords(t *testing.T) func(text string) []string {
	t.Helper()
	lex, err := lexicon(nil)
	if err != nil {
		t.Fatal(err)
	}
	number := map[string]bool{}
	for _, e := range lex.Entries {
		if slices.Contains([]string{"num", "scale", "point"}, e.Class) {
			for _, word := range e.Phrases {
				number[word] = true
			}
		}
	}
	return func(text string) []string {
		words := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) })
		return slices.DeleteFunc(words, func(w string) bool { return !number[w] })
	}
}

// inOrder is how many of the wanted words are among those got, in the same order.
func inOrder(want, got []string) int {
	most := make([]int, len(got)+1) // with the first words got
	for _, w := range want {
		before := 0
		for j, g := range got {
			here := max(most[j], most[j+1])
			if w == g {
				here = before + 1
			}
			before, most[j+1] = most[j+1], here
		}
	}
	return most[len(got)]
}

func TestVocabularyCommand(t *testing.T) {
	needs(t, "espeak-ng")
	dir := t.TempDir()
	var out, complaints bytes.Buffer
	if code := run([]string{"vocabulary", dir, "--field", "Zwetschgen 40"}, &term{Out: &out, Err: &complaints}); code != 0 {
		t.Fatal(complaints.String())
	}
	if !regexp.MustCompile(`^\d+ words in `).MatchString(out.String()) || !strings.Contains(complaints.String(), "zwetschgen") {
		t.Errorf("got %q and %q", out.String(), complaints.String())
	}
	for _, name := range []string{"words.txt", "tankside.dict", "tankside.jsgf", "tankside.lm"} {
		if b, err := os.ReadFile(filepath.Join(dir, name)); err != nil || !bytes.Contains(b, []byte("zwetschgen")) {
			t.Errorf("%s lacks the field's name: %v", name, err)
		}
	}
}
