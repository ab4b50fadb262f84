package voice

import (
	"context"
	"errors"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"
)

func TestHTTP(t *testing.T) {
	note := Note{Sound: tone(300, time.Second/10)}
	var form map[string][]string
	var file []byte
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Method != http.MethodPost || r.URL.Path != "/v1/audio/transcriptions" || r.Header.Get("Authorization") != "Bearer key" {
			http.Error(w, "not for you", http.StatusForbidden)
			return
		}
		f, _, err := r.FormFile("file")
		if err != nil {
			http.Error(w, err.Error(), http.StatusBadRequest)
			return
		}
		file, _ = io.ReadAll(f)
		form = r.MultipartForm.Value
		io.WriteString(w, `{"text": " Three thousand gallon tank.\n", "language": "en"}`)
	}))
	defer server.Close()
	h := HTTP{URL: server.URL + "/v1/audio/transcriptions", Key: "key", Model: "small", Prompt: "ryegrass, gallons"}
	got, err := h.Transcribe(context.Background(), note, "en")
	if err != nil || got.Text != "Three thousand gallon tank." || got.Doubtful() {
		t.Errorf("%+v, %v", got, err)
	}
	for name, want := range map[string]string{"model": "small", "language": "en", "prompt": "ryegrass, gallons", "response_format": "json", "temperature": "0"} {
		if got := strings.Join(form[name], "|"); got != want {
			t.Errorf("field %s is %q, want %q", name, got, want)
		}
	}
	if back, err := FromWAV(file); err != nil || len(back) != len(note.Sound) {
		t.Errorf("file: %d samples, %v", len(back), err)
	}
	h.Key = ""
	if _, err := h.Transcribe(context.Background(), note, "en"); err == nil || !strings.Contains(err.Error(), "403") {
		t.Errorf("without the key: %v", err)
	}
}

func TestHTTPAnswers(t *testing.T) {
	for answer, want := range map[string]struct {
		text         string
		unsure, fail bool
	}{
		`{"text":"log load"}`: {"log load", false, false},
		`{"text":"log load","segments":[{"avg_logprob":-0.2}]}`:    {"log load", false, false},
		`{"text":"log load","segments":[{"avg_logprob":-1.4}]}`:    {"log load", true, false},
		`{"text":"thank you","segments":[{"no_speech_prob":0.9}]}`: {"thank you", true, false},
		`{"error":"no model"}`: {"", false, true},
		`<html>`:               {"", false, true},
		`{"text": 5}`:          {"", false, true},
		`{"text":"` + strings.Repeat("log ", 2000) + `"}`: {strings.TrimSpace(strings.Repeat("log ", 500)), false, false},
	} {
		got, err := readAnswer([]byte(answer))
		if (err != nil) != want.fail || got.Unsure != want.unsure || strings.TrimSpace(got.Text) != want.text {
			t.Errorf("%.60s: %+v, %v", answer, got, err)
		}
	}
}

// A server that hangs, redirects or never stops does not hold the bot.
func TestHTTPHostile(t *testing.T) {
	note := Note{Sound: tone(300, time.Second/10)}
	stop := make(chan struct{})
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		switch r.URL.Path {
		case "/hangs":
			<-stop
		case "/redirects":
			http.Redirect(w, r, "/text", http.StatusTemporaryRedirect)
		case "/text":
			io.WriteString(w, `{"text":"log load"}`)
		default:
			for range 1 << 12 {
				if _, err := w.Write(make([]byte, 1<<10)); err != nil {
					return
				}
			}
		}
	}))
	defer server.Close()
	defer close(stop)
	start := time.Now()
	if _, err := (HTTP{URL: server.URL + "/hangs", Limit: 100 * time.Millisecond}).Transcribe(context.Background(), note, "en"); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("hangs: %v", err)
	}
	for _, path := range []string{"/redirects", "/never-stops"} {
		if got, err := (HTTP{URL: server.URL + path}).Transcribe(context.Background(), note, "en"); err == nil {
			t.Errorf("%s: %+v", path, got)
		}
	}
	if time.Since(start) > 5*time.Second {
		t.Errorf("took %v", time.Since(start))
	}
}
