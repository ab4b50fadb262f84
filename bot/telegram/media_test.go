package telegram_test

import (
	"bytes"
	"context"
	"errors"
	"image/png"
	"io"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"tankside/bot/telegram"
	"tankside/bot/telegram/apitest"
)

// said is what a made-up voice was asked to say.
type said struct {
	mu   sync.Mutex
	list []string
}

func (s *said) all() []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return slices.Clone(s.list)
}

// voice gives the bot a voice that writes down what it says, after hold has been
// closed, unless that is nil.
func (w *world) voice(hold <-chan struct{}) *said {
	s := &said{}
	w.config.Speak = func(ctx context.Context, lang, text string) ([]byte, int, error) {
		if hold != nil {
			select {
			case <-hold:
			case <-ctx.Done():
				return nil, 0, ctx.Err()
			}
		}
		s.mu.Lock()
		defer s.mu.Unlock()
		s.list = append(s.list, lang+": "+text)
		return []byte("OggS" + text), 3, nil
	}
	return s
}

// since are a chat's messages from the nth on, once nothing waits.
func (w *world) since(chat int64, n int) []apitest.Message {
	w.t.Helper()
	w.settle()
	return w.server.Messages(chat)[n:]
}

func photos(list []apitest.Message) (out []apitest.Message) {
	return slices.DeleteFunc(slices.Clone(list), func(m apitest.Message) bool { return m.Photo == nil })
}

func voices(list []apitest.Message) (out []apitest.Message) {
	return slices.DeleteFunc(slices.Clone(list), func(m apitest.Message) bool { return m.Voice == nil })
}

const jars = "jar counts 20 24 19 30 22"

// The picture of an answer comes after it, silently, with a caption that carries its
// numbers, in the chat's language.
func TestPictureAfterItsAnswer(t *testing.T) {
	w := newWorld(t)
	ann := w.owner(7, "Ann")
	for _, c := range []struct{ say, text, caption string }{
		{jars, "23", "23"},
		{"conteo de frascos 20 24 19 30 22", "23", "frascos"},
	} {
		w.settle()
		n := len(w.server.Messages(7))
		ann.Say(7, c.say)
		got := w.since(7, n)
		if len(got) != 2 || !strings.Contains(got[0].Text, c.text) || got[0].Photo != nil || got[0].Silent {
			t.Fatalf("%q is answered with %d messages: %+v", c.say, len(got), got)
		}
		if !got[1].Silent || !strings.Contains(got[1].Text, c.caption) {
			t.Errorf("%q: caption %q, silent: %v", c.say, got[1].Text, got[1].Silent)
		}
		if _, err := png.Decode(bytes.NewReader(got[1].Photo)); err != nil {
			t.Errorf("%q: %v", c.say, err)
		}
	}
}

// The day's picture has the day's loads, and an answer without one has none.
func TestPictureOfTheDay(t *testing.T) {
	w := newWorld(t)
	ann := w.owner(7, "Ann")
	for _, text := range []string{"my tank is 3000 gallons, 7000 per acre", "log load", "log load", "log half a load"} {
		ann.Say(7, text)
	}
	if got := photos(w.since(7, 0)); len(got) != 0 {
		t.Fatalf("pictures of nothing: %+v", got)
	}
	n := len(w.server.Messages(7))
	ann.Say(7, "totals today")
	got := w.since(7, n)
	if len(got) != 2 || len(photos(got)) != 1 || !strings.Contains(got[1].Text, "2.5") {
		t.Errorf("the day: %+v", got)
	}
}

// In a group the picture goes where the answer goes.
func TestPictureStaysInItsTopic(t *testing.T) {
	w := newWorld(t)
	ann := w.owner(7, "Ann")
	w.group(ann)
	w.settle()
	n := len(w.server.Messages(crew))
	ann.Say(crew, "@"+apitest.BotName+" "+jars, apitest.InTopic(55))
	got := w.since(crew, n)
	if len(got) != 2 || got[1].Photo == nil || got[0].Thread != 55 || got[1].Thread != 55 {
		t.Errorf("in the topic: %+v", got)
	}
}

// Neither an edit nor a repeated update brings the picture again.
func TestPictureComesOnce(t *testing.T) {
	w := newWorld(t)
	ann := w.owner(7, "Ann")
	w.settle()
	n := len(w.server.Messages(7))
	m := ann.Say(7, jars)
	w.settle()
	ann.Edit(m, "jar counts 20 24 19 30 40", time.Now().Add(time.Second))
	got := w.since(7, n)
	if len(got) != 2 || len(photos(got)) != 1 || got[0].Edits != 1 {
		t.Errorf("after an edit: %+v", got)
	}
	w.halt()
	w.start()
	if got := w.since(7, n); len(photos(got)) != 1 {
		t.Errorf("after a restart: %+v", got)
	}
}

// Whatever becomes of a picture, what is written arrives, and the picture not twice.
func TestFaultsOfPictures(t *testing.T) {
	for name, c := range map[string]struct {
		fault apitest.Fault
		count int
	}{
		"429":         {apitest.Fault{Status: 429, RetryAfter: 1}, 1},
		"500 once":    {apitest.Fault{Status: 500}, 1},
		"refused":     {apitest.Fault{Status: 400, Times: -1}, 0},
		"500 forever": {apitest.Fault{Status: 500, Times: -1}, 0},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			w := newWorld(t)
			ann := w.owner(7, "Ann")
			w.settle()
			n := len(w.server.Messages(7))
			w.server.Fail("sendPhoto", c.fault)
			ann.Say(7, jars)
			w.await("the picture to be tried", func() bool { return len(w.server.Calls("sendPhoto")) > 0 })
			ann.Say(7, "log load")
			w.await("the answer behind it", func() bool {
				return slices.ContainsFunc(w.server.Messages(7)[n:], func(m apitest.Message) bool { return strings.Contains(m.Text, "Load 1") })
			})
			if got := w.since(7, n); len(photos(got)) != c.count || len(got) != 2+c.count {
				t.Errorf("got %+v", got)
			}
			if c.count == 0 && !strings.Contains(w.logs.String(), "method=sendPhoto") && !strings.Contains(w.logs.String(), "msg=send ") {
				t.Error("nothing in the log")
			}
		})
	}
}

// Answers are spoken only while that is on, in the chat's language, in words.
func TestSpokenAnswers(t *testing.T) {
	w := newWorld(t)
	spoken := w.voice(nil)
	ann := w.owner(7, "Ann")
	ann.Say(7, "my tank is 3000 gallons")
	if got := voices(w.since(7, 0)); len(got) != 0 {
		t.Fatalf("spoke without being asked to: %+v", got)
	}
	n := len(w.server.Messages(7))
	ann.Say(7, "speak on")
	ann.Say(7, "7000 per acre, acres per load")
	got := w.since(7, n)
	if len(got) != 4 || len(voices(got)) != 2 {
		t.Fatalf("while speaking: %+v", got)
	}
	if all := spoken.all(); len(all) != 2 || !strings.HasPrefix(all[1], "en: Zero point four three acres") {
		t.Errorf("said: %q", all)
	}
	if c := w.server.Calls("sendVoice"); c[0].Params["duration"] != 3.0 {
		t.Errorf("params: %v", c[0].Params)
	}
	w.halt()
	w.start() // it is remembered
	ann.Say(7, "tanque de 3000 galones, 7000 por acre")
	w.settle()
	if all := spoken.all(); len(all) != 3 || !strings.HasPrefix(all[2], "es: ") || strings.ContainsAny(all[2], "0123456789") {
		t.Errorf("said: %q", all)
	}
	n = len(w.server.Messages(7))
	ann.Say(7, "sin voz")
	ann.Say(7, "log load")
	if got := w.since(7, n); len(got) != 2 || len(voices(got)) != 0 {
		t.Errorf("after turning it off: %+v", got)
	}
}

func TestNoVoiceHere(t *testing.T) {
	w := newWorld(t)
	ann := w.owner(7, "Ann")
	w.hear(7, "no voice", func() { ann.Say(7, "speak on") })
	w.hear(7, "3,000", func() { ann.Say(7, "my tank is 3000 gallons") })
	if got := w.since(7, 0); len(voices(got)) != 0 {
		t.Errorf("spoke: %+v", got)
	}
}

// A slow voice holds up nothing that is written; what it was to say comes later, also
// after a restart. One that fails is given up.
func TestWrittenAnswersPassSpokenOnes(t *testing.T) {
	w := newWorld(t)
	hold := make(chan struct{})
	spoken := w.voice(hold)
	ann := w.owner(7, "Ann")
	bob := w.server.Person(8, "Bob")
	w.letInPrivately(ann, bob)
	n := len(w.server.Messages(7))
	ann.Say(7, "speak on")
	for range 4 {
		ann.Say(7, "log load")
	}
	w.await("five written answers", func() bool { return len(w.server.Messages(7)) == n+5 })
	w.hear(8, "Load 1", func() { bob.Say(8, "log load") })
	w.halt()
	w.start()
	close(hold)
	got := w.since(7, n)
	if len(got) != 10 || len(voices(got)) != 5 {
		t.Errorf("in the end: %+v", got)
	}
	all := spoken.all()
	if !strings.Contains(all[len(all)-1], "four") {
		t.Errorf("out of order: %q", all)
	}
	w.halt()
	w.config.Speak = func(context.Context, string, string) ([]byte, int, error) { return nil, 0, errors.New("no sound card") }
	w.start()
	n = len(w.server.Messages(7))
	ann.Say(7, "log load")
	if got := w.since(7, n); len(got) != 1 || !strings.Contains(w.logs.String(), "no sound card") {
		t.Errorf("without a sound: %+v", got)
	}
}

// letInPrivately invites somebody.
func (w *world) letInPrivately(owner, guest *apitest.Person) {
	w.t.Helper()
	m := w.hear(owner.ID, "/start ", func() { owner.Say(owner.ID, "/invite") })
	_, code, _ := strings.Cut(m.Text, "/start ")
	w.hear(guest.ID, "Welcome", func() { guest.Say(guest.ID, "/start "+code[:8]) })
	w.settle()
}

// ear lets the bot hear the bytes of a note; those that start with "~" it is not sure
// of.
func (w *world) ear() {
	w.config.Hear = func(_ context.Context, lang string, ogg io.Reader) (telegram.Heard, error) {
		data, err := io.ReadAll(ogg)
		text, unsure := strings.CutPrefix(string(data), "~")
		return telegram.Heard{Text: text, Unsure: unsure}, err
	}
}

// talk sends a voice note and waits for the answer to it.
func (w *world) talk(p *apitest.Person, words, want string) apitest.Message {
	w.t.Helper()
	w.server.AddFile(words, []byte(words))
	return w.hear(p.ID, want, func() { p.Say(p.ID, "", apitest.Voice(words, 3)) })
}

// What a voice note was heard to say stands before its answer; a load by voice has its
// numbers and the word that undoes it.
func TestHeardIsSaidBack(t *testing.T) {
	w := newWorld(t)
	w.ear()
	ann := w.owner(7, "Ann")
	w.hear(7, "0.43", func() { ann.Say(7, "3000 gallon tank, 7000 per acre") })
	m := w.talk(ann, "log a load", "I heard: “log a load”\nLoad 1 logged")
	for _, want := range []string{"0.43 acres", "3,000", "“undo”"} {
		if !strings.Contains(m.Text, want) {
			t.Errorf("%q is not in %q", want, m.Text)
		}
	}
	if !strings.HasPrefix(m.HTML, "I heard: “log a load”\n<b>Load 1") {
		t.Errorf("HTML: %q", m.HTML)
	}
	m = w.talk(ann, "<b>how many acres a load", "I heard: “<b>how many acres a load”")
	w.talk(ann, "remind me in 20 minutes to wet the pail", "I will remind you")
	w.hear(7, "", func() { ann.Say(7, "en español") })
	w.talk(ann, "anotar carga", "Oí: “anotar carga”\nCarga 2")
}

// What was not heard for sure is asked about and changes nothing before it is
// confirmed; a question that it was to answer stays open.
func TestUnsureIsAsked(t *testing.T) {
	w := newWorld(t)
	w.ear()
	ann := w.owner(7, "Ann")
	w.hear(7, "tank", func() { ann.Say(7, "7000 per acre, how many acres a load?") })
	m := w.talk(ann, "~three thousand gallons", "Did you say “three thousand gallons”?")
	if len(m.Buttons) != 2 || strings.Contains(m.Text, "0.43") {
		t.Fatalf("asked: %+v", m)
	}
	w.hear(7, "Nothing changed", func() { ann.Say(7, "no") })
	m = w.talk(ann, "~four thousand gallons", "Did you say")
	m = w.talk(ann, "~three thousand gallons", "Did you say")
	w.hear(7, "0.43", func() { ann.Press(7, m.ID, m.Buttons[0].Data) })
	w.talk(ann, "~log two loads", "Did you say “log two loads”?")
	w.settle()
	if n := len(w.loads(7)); n != 0 {
		t.Fatalf("%d loads logged on a guess", n)
	}
	w.hear(7, "2 loads", func() { ann.Say(7, "yes") })
	w.talk(ann, "~log nine loads", "Did you say")
	w.hear(7, "aken back", func() { ann.Say(7, "undo") }) // something else drops it
	w.hear(7, "no question", func() { ann.Say(7, "yes") })
	w.settle()
	if n := len(w.loads(7)); n > 1 {
		t.Errorf("%d loads", n)
	}
}

// The day's summary comes with the day's picture.
func TestPictureOfTheSummary(t *testing.T) {
	t.Parallel()
	w := newWorld(t)
	ann := w.owner(7, "Ann")
	w.hear(7, "summary comes at", func() { ann.Say(7, "/day 19:00") })
	w.hear(7, "Load 1", func() { ann.Say(7, "log load") })
	w.settle()
	n := len(w.server.Messages(7))
	w.hear(7, "1 load", func() { w.bring(7, 0) })
	if got := w.since(7, n); len(got) != 2 || got[1].Photo == nil || !strings.Contains(got[1].Text, "1 load") {
		t.Errorf("the summary: %+v", got)
	}
}

// However many pictures are to be drawn, what is written does not wait for them.
func TestManyPicturesHoldUpNothing(t *testing.T) {
	w := newWorld(t)
	chats := w.letIn(-900, 12)
	ann := w.server.Person(7, "Ann")
	w.start()
	for _, chat := range chats {
		ann.Say(chat, "/jar counts 20 24 19 30 22")
	}
	w.await("the first picture", func() bool { return len(w.server.Calls("sendPhoto")) > 0 })
	began := time.Now()
	w.hear(7, "Load 1", func() { ann.Say(7, "log load") })
	if took := time.Since(began); took > time.Second {
		t.Errorf("the answer took %v", took)
	}
	drawn := len(w.server.Calls("sendPhoto"))
	t.Logf("answered after %v, with %d of %d pictures out", time.Since(began), drawn, len(chats))
	w.settle()
	if n := len(w.server.Calls("sendPhoto")); n != len(chats) || drawn == n {
		t.Errorf("%d pictures, %d of them before the answer", n, drawn)
	}
}
