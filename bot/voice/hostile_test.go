package voice

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"io"
	"math/rand/v2"
	"os"
	"runtime"
	"strings"
	"testing"
	"time"
)

// A broken or hostile note ends in an error that is told to its sender, soon.
func TestHostileNotes(t *testing.T) {
	good, err := EncodeOpus(tone(300, 2*time.Second))
	if err != nil {
		t.Fatal(err)
	}
	chance := rand.New(rand.NewPCG(3, 4))
	noise := make([]byte, 100_000)
	for i := range noise {
		noise[i] = byte(chance.Uint32())
	}
	notes := map[string][]byte{
		"empty": nil, "text": []byte("hello"), "magic only": []byte("OggS"), "noise": append([]byte("OggS"), noise...),
		"no audio": good[:200], "head twice": append(bytes.Clone(good[:100]), good[:100]...),
		"many channels": bytes.Replace(good, []byte("OpusHead\x01\x01"), []byte("OpusHead\x01\xff"), 1),
		"vorbis":        bytes.ReplaceAll(good, []byte("OpusHead"), []byte("\x01vorbis.")),
	}
	for name, note := range notes {
		for which, d := range map[string]Decoder{"own": OwnDecoder(), "ffmpeg": FFmpegDecoder()} {
			start := time.Now()
			if s, err := d.Decode(context.Background(), note); !errors.Is(err, ErrBroken) {
				t.Errorf("%s, %s: %v long, %v", name, which, s.Length(), err)
			}
			if took := time.Since(start); took > 5*time.Second {
				t.Errorf("%s, %s: took %v", name, which, took)
			}
		}
	}
	// Cut or damaged in the middle: whatever comes of it, it comes soon and within limits.
	for range 20 {
		bad := bytes.Clone(good[:len(good)/2+chance.IntN(len(good)/2)])
		for range 10 {
			bad[chance.IntN(len(bad))] ^= byte(1 << chance.IntN(8))
		}
		if s, err := OwnDecoder().Decode(context.Background(), bad); err != nil && !Fault(err) || len(s) > maxSamples {
			t.Errorf("%d samples, %v", len(s), err)
		}
	}
}

func FuzzDecode(f *testing.F) {
	good, err := EncodeOpus(tone(300, time.Second/2))
	if err != nil {
		f.Fatal(err)
	}
	f.Add(good)
	f.Add(good[:len(good)/2])
	f.Add([]byte("OggS"))
	f.Fuzz(func(t *testing.T, note []byte) {
		var out bytes.Buffer
		start := time.Now()
		err := decodeOpus(bytes.NewReader(repaired(note)), &out)
		if took := time.Since(start); took > 5*time.Second {
			t.Errorf("%d bytes took %v", len(note), took)
		}
		if out.Len() > 2*(maxSamples+1) {
			t.Errorf("%d bytes of sound, %v", out.Len(), err)
		}
	})
}

// repaired puts the right checksum on every page, so that fuzzing reaches what is in them.
func repaired(note []byte) []byte {
	note = bytes.Clone(note)
	for at := 0; at+27 <= len(note) && string(note[at:at+4]) == "OggS"; {
		size := 27 + int(note[at+26])
		if at+size > len(note) {
			break
		}
		for _, n := range note[at+27 : at+size] {
			size += int(n)
		}
		page := note[at:min(at+size, len(note))]
		copy(page[22:26], make([]byte, 4))
		binary.LittleEndian.PutUint32(page[22:], checksum(page))
		at += size
	}
	return note
}

// checksum is Ogg's.
func checksum(page []byte) (sum uint32) {
	for _, b := range page {
		sum ^= uint32(b) << 24
		for range 8 {
			if sum&(1<<31) != 0 {
				sum = sum<<1 ^ 0x04c11db7
			} else {
				sum <<= 1
			}
		}
	}
	return sum
}

func TestRepairedLeavesGoodNotesAlone(t *testing.T) {
	good, err := EncodeOpus(tone(300, time.Second/2))
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(good, repaired(good)) {
		t.Error("the checksums are not Ogg's")
	}
}

func TestChildLimits(t *testing.T) {
	ctx := context.Background()
	if runtime.GOOS != "linux" {
		t.Log("memory and time are held by the parent's clock only")
	} else {
		start := time.Now()
		_, err := run(ctx, bounds{Time: time.Second, Memory: 256, Out: 10}, nil, "sh", "-c", "sleep 100 & sleep 100")
		if err == nil || time.Since(start) > 4*time.Second {
			t.Errorf("a child that sleeps: %v after %v", err, time.Since(start))
		}
		if _, err := run(ctx, bounds{Time: 10 * time.Second, Memory: 32, Out: 10}, nil, "sh", "-c", `x=xxxxxxxxxxxxxxxx; while :; do x=$x$x; done`); err == nil || errors.Is(err, context.DeadlineExceeded) {
			t.Errorf("a child that eats memory: %v", err)
		}
	}
	if _, err := run(ctx, bounds{Time: 5 * time.Second, Memory: 64, Out: 1000}, nil, "sh", "-c", "while :; do echo yes; done"); !errors.Is(err, errOutput) {
		t.Errorf("a child that never stops: %v", err)
	}
	if _, err := run(ctx, bounds{Time: 5 * time.Second, Memory: 64, Out: 1000}, nil, "no-such-program"); !errors.Is(err, ErrMissing) {
		t.Errorf("no such program: %v", err)
	}
	t.Setenv("TANKSIDE_TOKEN", "secret")
	out, err := run(ctx, bounds{Time: 5 * time.Second, Memory: 64, Out: 9000}, nil, "env")
	if err != nil || strings.Contains(string(out), "secret") {
		t.Errorf("a child sees the token: %s, %v", out, err)
	}
}

// endless never ends.
type endless struct{}

func (endless) Read(p []byte) (int, error) { return copy(p, "OggS"), nil }

// fixed hears the same in everything.
type fixed struct {
	text string
	wait chan struct{}
}

func (f fixed) Transcribe(ctx context.Context, _ Note, _ string) (Transcript, error) {
	if f.wait != nil {
		select {
		case <-f.wait:
		case <-ctx.Done():
			return Transcript{}, ctx.Err()
		}
	}
	return Transcript{Text: f.text}, nil
}

func TestEar(t *testing.T) {
	good, err := EncodeOpus(tone(300, time.Second))
	if err != nil {
		t.Fatal(err)
	}
	ctx := context.Background()
	for _, c := range []struct {
		name string
		ear  *Ear
		note io.Reader
		want error
	}{
		{"none", nil, bytes.NewReader(good), ErrOff},
		{"no transcriber", NewEar(nil, OwnDecoder(), 1), bytes.NewReader(good), ErrOff},
		{"endless", NewEar(fixed{text: "x"}, OwnDecoder(), 1), endless{}, ErrTooBig},
		{"broken", NewEar(fixed{text: "x"}, OwnDecoder(), 1), strings.NewReader("OggS"), ErrBroken},
		{"silent", NewEar(fixed{text: " \n"}, OwnDecoder(), 1), bytes.NewReader(good), ErrNothing},
	} {
		if _, err := c.ear.Hear(ctx, c.note, "en"); !errors.Is(err, c.want) {
			t.Errorf("%s: %v", c.name, err)
		}
	}
	got, err := NewEar(fixed{text: "  log\x00 load\n"}, OwnDecoder(), 1).Hear(ctx, bytes.NewReader(good), "en")
	if err != nil || got.Text != "log load" || got.Doubtful() {
		t.Errorf("%+v, %v", got, err)
	}
}

// One note at a time; the next waits, and gives up when its sender does.
func TestEarTakesTurns(t *testing.T) {
	good, err := EncodeOpus(tone(300, time.Second))
	if err != nil {
		t.Fatal(err)
	}
	slow := fixed{"log load", make(chan struct{})}
	ear := NewEar(slow, OwnDecoder(), 1)
	done := make(chan error, 1)
	go func() {
		_, err := ear.Hear(context.Background(), bytes.NewReader(good), "en")
		done <- err
	}()
	for len(ear.turns) == 0 {
		time.Sleep(time.Millisecond)
	}
	ctx, stop := context.WithTimeout(context.Background(), 50*time.Millisecond)
	defer stop()
	if _, err := ear.Hear(ctx, bytes.NewReader(good), "en"); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("the second one: %v", err)
	}
	close(slow.wait)
	if err := <-done; err != nil {
		t.Error(err)
	}
	for len(ear.queue) < cap(ear.queue) {
		ear.queue <- struct{}{}
	}
	if _, err := ear.Hear(context.Background(), bytes.NewReader(good), "en"); !errors.Is(err, ErrBusy) {
		t.Errorf("a full queue: %v", err)
	}
}

func TestNothingIsLeftBehind(t *testing.T) {
	t.Setenv("TMPDIR", t.TempDir())
	note := Note{[]byte("OggS"), tone(300, time.Second/10)}
	got, err := Command{Argv: []string{"echo", "{lang}", "log load;", "$(x)"}}.Transcribe(context.Background(), note, "es")
	if err != nil || got.Text != "es log load; $(x)" {
		t.Errorf("%+v, %v", got, err)
	}
	left, err := os.ReadDir(os.TempDir())
	if err != nil || len(left) > 0 {
		t.Errorf("left behind: %v, %v", left, err)
	}
}
