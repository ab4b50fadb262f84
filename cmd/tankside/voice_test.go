package main

import (
	"bytes"
	"context"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"tankside/bot/telegram/apitest"
	"tankside/bot/voice"
)

// note is a voice note of somebody who says something, made by a program that is not
// the bot's own voice.
func note(t *testing.T, words string) []byte {
	t.Helper()
	file := filepath.Join(t.TempDir(), "said.wav")
	if out, err := exec.Command("flite", "-voice", "slt", "-t", words, "-o", file).CombinedOutput(); err != nil {
		t.Fatalf("flite: %v %s (apt-get install flite)", err, out)
	}
	wav, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	sound, err := voice.FromWAV(wav)
	if err != nil {
		t.Fatal(err)
	}
	ogg, err := voice.EncodeOpus(sound)
	if err != nil {
		t.Fatal(err)
	}
	return ogg
}

// With the real programs: a voice note is answered with what it said, and the answer
// comes as a voice note too, which plays and is as long as it says.
func TestServeHearsAndSpeaks(t *testing.T) {
	s := startServe(t, filepath.Join(t.TempDir(), "log.db"))
	ann := s.owner()
	s.hear(ann, "speak on", "I speak my answers too")
	s.server.AddFile("note", note(t, "three thousand gallon tank, seven thousand gallons per acre"))
	ann.Say(7, "", apitest.Voice("note", 5))
	var written, spoken []apitest.Message
	s.await("the answer, written and spoken", func() bool {
		written, spoken = nil, nil
		for _, m := range s.server.Messages(7) {
			if m.Voice == nil {
				written = append(written, m)
			} else {
				spoken = append(spoken, m)
			}
		}
		return len(written) == 3 && len(spoken) == 2
	})
	if got := written[2].Text; !strings.HasPrefix(got, "I heard: “three thousand gallon tank seven thousand gallons per acre”\n0.43 acres a load") {
		t.Errorf("answer: %q", got)
	}
	for i, m := range spoken {
		sound, err := voice.OwnDecoder().Decode(context.Background(), m.Voice)
		if err != nil {
			t.Fatal(err)
		}
		said := s.server.Calls("sendVoice")[i].Params["duration"].(float64)
		if long := sound.Length().Seconds(); long < 2 || long > 25 || math.Abs(long-said) > 1 {
			t.Errorf("note %d is %.1f s long and says %.0f s", i, long, said)
		}
	}
	s.stop()
}

// The terminal takes voice notes from files, says back what it heard, and asks where
// it is not sure.
func TestChatVoice(t *testing.T) {
	file := filepath.Join(t.TempDir(), "my note.ogg")
	if err := os.WriteFile(file, note(t, "my tank is four thousand gallons"), 0o600); err != nil {
		t.Fatal(err)
	}
	chat := func(said string, more ...string) (string, string) {
		var out, complaints bytes.Buffer
		args := append([]string{"chat", "--db", ":memory:"}, more...)
		if status := run(args, &term{In: strings.NewReader(said), Out: &out, Err: &complaints}); status != 0 {
			t.Errorf("exit status %d: %s", status, &complaints)
		}
		return out.String(), complaints.String()
	}
	temp := t.TempDir()
	t.Setenv("TMPDIR", temp) // of its own, to see what is left behind
	out, complaints := chat("voice " + file + "\nyes\nwhat's my tank?\n")
	if !strings.Contains(out, "four thousand gallons”") || !strings.Contains(out, "4,000") || complaints != "" {
		t.Errorf("got %q, %q", out, complaints)
	}
	out, complaints = chat("voice "+file+"\n", "--hear", "cat {ogg}.txt")
	if !strings.Contains(out, "could not make that out") || !strings.Contains(complaints, "cat") {
		t.Errorf("with a program that fails: %q, %q", out, complaints)
	}
	out, _ = chat("voice "+file+"\n", "--hear", "echo my tank is 5000 gallons {wav}")
	if !strings.Contains(out, "I heard: “my tank is 5000 gallons") {
		t.Errorf("with a program: %q", out)
	}
	if out, complaints = chat("voice "+file+"\n", "--hear", "off"); !strings.Contains(complaints, "hint: ") {
		t.Errorf("without an ear: %q, %q", out, complaints)
	}
	if left, _ := filepath.Glob(filepath.Join(temp, "*")); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

func TestEarsThatAreNone(t *testing.T) {
	for _, ear := range []string{"whisper", "ftp://example.org", "sphinx2"} {
		if _, _, err := (&voiceFlags{Ear: ear}).hearing(nil); err == nil {
			t.Errorf("%s hears", ear)
		}
		if f := (&doctor{voiceFlags: voiceFlags{Ear: ear}}).ear(); f.todo == "" {
			t.Errorf("the doctor is content with %s: %s", ear, f.found)
		}
	}
	for _, ear := range []string{"http://127.0.0.1:8080/inference", "run {wav} -l {lang}", "sphinx"} {
		if hear, _, err := (&voiceFlags{Ear: ear}).hearing(nil); hear == nil || err != nil {
			t.Errorf("%s does not hear: %v", ear, err)
		}
	}
	if f := (&doctor{voiceFlags: voiceFlags{Ear: "off"}}).ear(); f.todo != "" || !strings.Contains(f.found, "off") {
		t.Errorf("turned off: %+v", f)
	}
}

func TestOggSeconds(t *testing.T) {
	for _, length := range []time.Duration{time.Second / 2, 3 * time.Second, 3*time.Second + time.Second/2} {
		ogg, err := voice.EncodeOpus(make(voice.Sound, int(length.Seconds()*voice.Rate)))
		if err != nil {
			t.Fatal(err)
		}
		if got := oggSeconds(ogg); got < int(math.Ceil(length.Seconds())) || got > int(math.Ceil(length.Seconds()))+1 {
			t.Errorf("%v: %d s", length, got)
		}
	}
	for _, broken := range []string{"", "OggS", "OggS\x00\x00\x00", "no sound"} {
		if got := oggSeconds([]byte(broken)); got != 0 {
			t.Errorf("%q: %d s", broken, got)
		}
	}
}
