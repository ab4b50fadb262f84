package voice

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"math"
	"os/exec"
	"strconv"
	"testing"
	"time"
)

// tone is a sound of one frequency.
func tone(hertz float64, length time.Duration) Sound {
	s := make(Sound, int(length.Seconds()*Rate))
	for i := range s {
		s[i] = int16(8000 * math.Sin(2*math.Pi*hertz*float64(i)/Rate))
	}
	return s
}

// likeness is the correlation of two sounds, at the shift within a tenth of a second
// where it is best.
func likeness(a, b Sound) (best float64) {
	for shift := -Rate / 10; shift <= Rate/10; shift += 4 {
		var ab, aa, bb float64
		for i := max(0, -shift); i < len(a) && i+shift < len(b); i++ {
			x, y := float64(a[i]), float64(b[i+shift])
			ab, aa, bb = ab+x*y, aa+x*x, bb+y*y
		}
		best = max(best, ab/math.Sqrt(aa*bb))
	}
	return best
}

func TestWAV(t *testing.T) {
	s := tone(440, time.Second)
	back, err := FromWAV(s.WAV())
	if err != nil || len(back) != len(s) || back[100] != s[100] {
		t.Fatalf("%d samples, %v", len(back), err)
	}
	for _, b := range [][]byte{nil, []byte("RIFF"), s.WAV()[:30], bytes.Replace(s.WAV(), []byte("WAVE"), []byte("EVAW"), 1), append(s.WAV()[:22:22], 2, 0)} {
		if _, err := FromWAV(b); err == nil {
			t.Errorf("%q was read", b)
		}
	}
}

func TestOtherRates(t *testing.T) {
	in := make(Sound, 22050)
	for i := range in {
		in[i] = int16(8000 * math.Sin(2*math.Pi*440*float64(i)/22050))
	}
	out := in.from(22050)
	if want := tone(440, time.Second); len(out) < Rate-2 || len(out) > Rate+2 || likeness(out, want[:len(out)]) < 0.999 {
		t.Errorf("%d samples, likeness %v", len(out), likeness(out, want))
	}
}

// A tone comes back through the encoder and both decoders.
func TestOpusThereAndBack(t *testing.T) {
	need(t, "ffmpeg")
	s := tone(440, 3*time.Second)
	note, err := EncodeOpus(s)
	if err != nil {
		t.Fatal(err)
	}
	for name, d := range map[string]Decoder{"own": OwnDecoder(), "ffmpeg": FFmpegDecoder()} {
		back, err := d.Decode(context.Background(), note)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if got := back.Length(); got < 2900*time.Millisecond || got > 3200*time.Millisecond {
			t.Errorf("%s: %v long", name, got)
		}
		if l := likeness(s[Rate:2*Rate], back[Rate:2*Rate]); l < 0.98 {
			t.Errorf("%s: likeness %v", name, l)
		}
	}
}

// What another encoder made is read the same as by the other decoder.
func TestForeignNote(t *testing.T) {
	need(t, "ffmpeg")
	for _, kind := range [][]string{{"-ac", "1", "-b:a", "24k"}, {"-ac", "2", "-b:a", "64k"}, {"-ac", "1", "-b:a", "12k", "-frame_duration", "60"}} {
		argv := append([]string{"-loglevel", "error", "-f", "wav", "-i", "pipe:0", "-c:a", "libopus"}, kind...)
		cmd := exec.Command("ffmpeg", append(argv, "-f", "ogg", "pipe:1")...)
		cmd.Stdin = bytes.NewReader(tone(500, 2*time.Second).WAV())
		note, err := cmd.Output()
		if err != nil {
			t.Fatal(err)
		}
		own, err := OwnDecoder().Decode(context.Background(), note)
		if err != nil {
			t.Fatalf("%v: %v", kind, err)
		}
		other, err := FFmpegDecoder().Decode(context.Background(), note)
		if err != nil {
			t.Fatalf("%v: %v", kind, err)
		}
		if l := likeness(own[Rate/2:Rate], other[Rate/2:Rate]); l < 0.98 {
			t.Errorf("%v: likeness %v", kind, l)
		}
	}
}

// Engine noise goes down a good deal, the voice stays.
func TestQuieten(t *testing.T) {
	need(t, "flite")
	s := padded(speak(t, "slt", "three thousand gallon tank seven thousand per acre"))
	if l := likeness(s, quieten(s)); l < 0.99 {
		t.Errorf("a clean voice came out changed: likeness %v", l)
	}
	noisy := withNoise(s, 20, 1)
	level := func(s Sound) float64 { return 10 * math.Log10(power(aboveRumble(floats(s[Rate/20:Rate/4])))) }
	if before, after := level(noisy), level(quieten(noisy)); before-after < 10 {
		t.Errorf("noise in the pause: %.1f dB before, %.1f dB after", before, after)
	}
	if l := likeness(s, quieten(noisy)); l < 0.9 {
		t.Errorf("the voice in noise came out changed: likeness %v", l)
	}
	if got := quieten(nil); len(got) != 0 {
		t.Error("sound out of nothing")
	}
}

// A spoken answer plays, is as long as talking takes, as loud as it should be, and
// is heard again.
func TestSpeaker(t *testing.T) {
	need(t, "espeak-ng", "ffmpeg")
	for lang, text := range map[string]string{
		"en": "Zero point four three acres a load. Five pounds two ounces of annual ryegrass.",
		"es": "Cero coma cuatro acres por carga. Cinco libras y dos onzas de ballico anual.",
	} {
		note, err := Espeak{}.Speak(context.Background(), text, lang)
		if err != nil {
			t.Fatal(err)
		}
		s, err := OwnDecoder().Decode(context.Background(), note)
		if err != nil {
			t.Fatal(err)
		}
		if got := s.Length(); got < 3*time.Second || got > 10*time.Second {
			t.Errorf("%s: %v long", lang, got)
		}
		if got := s.Loudness(); got < -22 || got > -14 {
			t.Errorf("%s: loudness %.1f dB", lang, got)
		}
		if codec, length := probe(t, note); codec != "opus" || math.Abs(length-s.Length().Seconds()) > 0.2 {
			t.Errorf("%s: ffprobe sees %s of %v s, we hear %v", lang, codec, length, s.Length())
		}
	}
	if _, err := (Espeak{}).Speak(context.Background(), "hallo", "de"); err == nil {
		t.Error("there is no German voice, but it spoke")
	}
	if _, err := (Espeak{}).Speak(context.Background(), " ", "en"); err == nil {
		t.Error("nothing was said aloud")
	}
	// What looks like a flag or a file is only text.
	if _, err := (Espeak{}).Speak(context.Background(), "-f /etc/hostname; $(true)", "en"); err != nil {
		t.Error(err)
	}
}

func probe(t *testing.T, note []byte) (codec string, seconds float64) {
	t.Helper()
	cmd := exec.Command("ffprobe", "-loglevel", "error", "-show_streams", "-show_format", "-of", "json", "pipe:0")
	cmd.Stdin = bytes.NewReader(note)
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("ffprobe: %v", err)
	}
	var p struct {
		Streams []struct {
			Codec    string `json:"codec_name"`
			Duration string `json:"duration"`
		}
	}
	if err := json.Unmarshal(out, &p); err != nil || len(p.Streams) != 1 {
		t.Fatalf("%v: %s", err, out)
	}
	// Through a pipe ffprobe does not know how long it is; it counts with ffmpeg.
	s, err := FFmpegDecoder().Decode(context.Background(), note)
	if err != nil {
		t.Fatal(err)
	}
	if p.Streams[0].Duration != "" {
		if seconds, err = strconv.ParseFloat(p.Streams[0].Duration, 64); err == nil {
			return p.Streams[0].Codec, seconds
		}
	}
	return p.Streams[0].Codec, s.Length().Seconds()
}

func TestTooMuch(t *testing.T) {
	long, err := EncodeOpus(make(Sound, maxSamples+Rate))
	if err != nil {
		t.Fatal(err)
	}
	full, err := EncodeOpus(make(Sound, maxSamples-Rate))
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range []Decoder{OwnDecoder(), FFmpegDecoder()} {
		if _, err := d.Decode(context.Background(), long); !errors.Is(err, ErrTooLong) {
			t.Errorf("61 s: %v", err)
		}
		if s, err := d.Decode(context.Background(), full); err != nil || s.Length() < 58*time.Second {
			t.Errorf("59 s: %v, %v", s.Length(), err)
		}
		if _, err := d.Decode(context.Background(), make([]byte, MaxBytes+1)); !errors.Is(err, ErrTooBig) {
			t.Errorf("too big: %v", err)
		}
	}
}
