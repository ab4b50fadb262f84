package voice

import (
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
	"time"
)

// HTTP transcribes with a server, in the shape that local speech servers share: a
// multipart form with the file, answered by {"text": "…"}. The server is the
// operator's choice; the note leaves this machine only if the server is elsewhere.
type HTTP struct {
	URL    string // with its path, such as http://127.0.0.1:8080/v1/audio/transcriptions or …/inference
	Key    string // sent as a bearer, unless it is empty
	Model  string
	Prompt string        // words to expect
	Limit  time.Duration // 0: 30 s
	Client *http.Client  // nil: one that follows no redirect
}

// answer is what servers answer; the segments come only from some, and only those
// say how sure they are.
type answer struct {
	Text     *string `json:"text"`
	Segments []struct {
		LogProb  float64 `json:"avg_logprob"`
		NoSpeech float64 `json:"no_speech_prob"`
	} `json:"segments"`
}

// ownClient takes no redirect: the key and the note go where the operator said.
var ownClient = &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}

// Transcribe asks the server.
func (h HTTP) Transcribe(ctx context.Context, note Note, lang string) (Transcript, error) {
	ctx, stop := context.WithTimeout(ctx, cmp.Or(h.Limit, 30*time.Second))
	defer stop()
	body, kind, err := h.form(note, lang)
	if err != nil {
		return Transcript{}, err
	}
	req, err := http.NewRequestWithContext(ctx, http.MethodPost, h.URL, body)
	if err != nil {
		return Transcript{}, errors.New("the address of the speech server is not a URL")
	}
	req.Header.Set("Content-Type", kind)
	req.Header.Set("Accept", "application/json")
	if h.Key != "" {
		req.Header.Set("Authorization", "Bearer "+h.Key)
	}
	client := h.Client
	if client == nil {
		client = ownClient
	}
	resp, err := client.Do(req)
	if err != nil {
		return Transcript{}, fmt.Errorf("speech server: %w", err)
	}
	defer resp.Body.Close()
	text, err := io.ReadAll(io.LimitReader(resp.Body, 1<<20))
	if err != nil {
		return Transcript{}, fmt.Errorf("speech server: %w", err)
	}
	if resp.StatusCode != http.StatusOK {
		return Transcript{}, fmt.Errorf("speech server: %s: %s", resp.Status, tidy(string(text[:min(len(text), 200)])))
	}
	return readAnswer(text)
}

func (h HTTP) form(note Note, lang string) (*bytes.Buffer, string, error) {
	var body bytes.Buffer
	form := multipart.NewWriter(&body)
	file, err := form.CreateFormFile("file", "note.wav")
	if err != nil {
		return nil, "", err
	}
	if _, err := file.Write(note.Sound.WAV()); err != nil {
		return nil, "", err
	}
	for _, field := range [][2]string{{"model", h.Model}, {"language", languageOr(lang)}, {"prompt", h.Prompt},
		{"response_format", "json"}, {"temperature", "0"}} {
		if field[1] == "" {
			continue
		}
		if err := form.WriteField(field[0], field[1]); err != nil {
			return nil, "", err
		}
	}
	return &body, form.FormDataContentType(), form.Close()
}

// readAnswer doubts what the server itself doubts: the thresholds are those at which
// whisper's own decoder tries again (log probability −1, no speech 0.6).
func readAnswer(text []byte) (Transcript, error) {
	var a answer
	if err := json.Unmarshal(text, &a); err != nil || a.Text == nil {
		return Transcript{}, fmt.Errorf("speech server: no text in its answer: %s", tidy(string(text[:min(len(text), 200)])))
	}
	t := Transcript{Text: tidy(*a.Text)}
	for _, s := range a.Segments {
		t.Unsure = t.Unsure || s.LogProb < -1 || s.NoSpeech > 0.6
	}
	return t, nil
}
