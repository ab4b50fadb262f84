// Package apitest is a Bot API server for tests: long polling with offsets, webhooks,
// messages, edits, presses, inline queries, files, chats that move, and faults on
// demand. It holds every call to the Bot API's own table and to the limits that the
// documentation gives in words, and keeps a record of all of them.
package apitest

import (
	"encoding/json"
	"fmt"
	"io"
	"mime"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"time"
)

// Token is the token of the bot that the server knows.
const Token = "123456789:TESTtestTESTtestTESTtestTESTtest123"

// Bot is the bot's own user.
const (
	BotID   = 123456789
	BotName = "tankside_bot"
)

// Server is the Bot API.
type Server struct {
	URL string

	mu       sync.Mutex
	http     *httptest.Server
	table    *table
	now      func() time.Time
	updates  []queued
	changed  chan struct{} // closed and renewed when updates change
	nextID   int64
	polls    int // the poll that counts; an older one is ended
	webhook  *hook
	chats    map[int64]*Chat
	presses  map[string]time.Time
	inlines  map[string]time.Time
	pressed  int
	faults   map[string][]*Fault
	calls    []Call
	problems []string
	files    map[string][]byte
	closed   chan struct{}
	keepLog  bool
	looked   int
	onSend   func(chat int64, m *Message)
	Counts   map[string]int
}

// Chat is what the server knows of a chat.
type Chat struct {
	ID       int64
	Type     string
	Title    string
	NextID   int
	MovedTo  int64
	Blocked  bool
	Messages map[int]*Message // the bot's own
	Order    []int

	said map[int]map[string]any // by people, for what quotes it
}

// Message is one that the bot sent, as it now stands.
type Message struct {
	ID       int
	Thread   int
	Text     string // as people see it
	HTML     string
	ReplyTo  int
	Buttons  []Button
	Force    bool
	Document []byte
	Photo    []byte
	Voice    []byte
	Silent   bool // it rings no phone
	Edits    int
	At       time.Time
}

// Button is one under a message.
type Button struct{ Text, Data, Share string }

// Call is one call that came in.
type Call struct {
	Method string
	Params map[string]any
	At     time.Time
	Status int
}

// Fault is what goes wrong with the next calls of a method.
type Fault struct {
	Status     int // 429, 500, 403 …; 0 with Hang or Half only
	RetryAfter int
	Body       string        // instead of JSON, such as a proxy's page
	Hang       time.Duration // before anything happens
	Half       bool          // the call is done, but the answer breaks off
	Times      int           // 0: once; -1: until cleared
	Chat       int64         // only for this chat; 0: for all
}

// file stands for an uploaded file among the parameters.
type file []byte

// Start starts a server.
func Start() (*Server, error) {
	t, err := loadTable()
	if err != nil {
		return nil, err
	}
	s := &Server{table: t, now: time.Now, changed: make(chan struct{}), nextID: 1000, chats: map[int64]*Chat{}, presses: map[string]time.Time{},
		inlines: map[string]time.Time{}, faults: map[string][]*Fault{}, files: map[string][]byte{}, closed: make(chan struct{}), keepLog: true, Counts: map[string]int{}}
	s.http = httptest.NewServer(http.HandlerFunc(s.serve))
	s.URL = s.http.URL
	return s, nil
}

// Close stops the server and what it waits for.
func (s *Server) Close() {
	close(s.closed)
	s.http.CloseClientConnections()
	s.http.Close()
}

// Forget stops the record of calls, and holds only one call in fifty to the table:
// for runs of many, that are to measure the bot and not the server.
func (s *Server) Forget() { s.mu.Lock(); s.keepLog = false; s.mu.Unlock() }

func (s *Server) looks() bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.looked++
	return s.keepLog || s.looked%50 == 0
}

// OnSend calls f for each message that the bot sends, without the server's lock.
func (s *Server) OnSend(f func(chat int64, m *Message)) { s.mu.Lock(); s.onSend = f; s.mu.Unlock() }

// Fail makes the next calls of a method fail.
func (s *Server) Fail(method string, f Fault) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.faults[method] = append(s.faults[method], &f)
}

// Heal clears all faults.
func (s *Server) Heal() { s.mu.Lock(); s.faults = map[string][]*Fault{}; s.mu.Unlock() }

// Problems are the calls that the Bot API would not have taken, or should not get.
func (s *Server) Problems() []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return append([]string(nil), s.problems...)
}

// Calls lists the calls of a method.
func (s *Server) Calls(method string) (out []Call) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, c := range s.calls {
		if c.Method == method {
			out = append(out, c)
		}
	}
	return out
}

// Messages are what a chat shows of the bot, in order.
func (s *Server) Messages(chat int64) (out []Message) {
	s.mu.Lock()
	defer s.mu.Unlock()
	c := s.chat(chat)
	for _, id := range c.Order {
		out = append(out, *c.Messages[id])
	}
	return out
}

// AddFile makes a file that the bot can fetch.
func (s *Server) AddFile(id string, data []byte) { s.mu.Lock(); s.files[id] = data; s.mu.Unlock() }

// apiError is an answer that is no success.
type apiError struct {
	Code       int
	Text       string
	RetryAfter int
	MoveTo     int64
}

func (e *apiError) Error() string { return e.Text }

func bad(format string, args ...any) *apiError {
	return &apiError{Code: 400, Text: "Bad Request: " + fmt.Sprintf(format, args...)}
}

func (s *Server) serve(w http.ResponseWriter, r *http.Request) {
	if id, ok := strings.CutPrefix(r.URL.Path, "/file/bot"+Token+"/"); ok {
		s.mu.Lock()
		data, found := s.files[id]
		s.mu.Unlock()
		if !found {
			http.NotFound(w, r)
			return
		}
		w.Write(data)
		return
	}
	method, ok := strings.CutPrefix(r.URL.Path, "/bot"+Token+"/")
	if !ok {
		answer(w, nil, &apiError{Code: 401, Text: "Unauthorized"})
		return
	}
	params, err := s.params(method, r)
	if err != nil {
		answer(w, nil, bad("%v", err))
		return
	}
	fault := s.fault(method, params)
	if fault != nil && fault.Hang > 0 {
		select {
		case <-time.After(fault.Hang):
		case <-r.Context().Done():
			return
		case <-s.closed:
			return
		}
	}
	if fault != nil && fault.Status != 0 {
		s.record(method, params, fault.Status)
		if fault.Body != "" {
			w.WriteHeader(fault.Status)
			io.WriteString(w, fault.Body)
			return
		}
		answer(w, nil, &apiError{Code: fault.Status, Text: http.StatusText(fault.Status), RetryAfter: fault.RetryAfter})
		return
	}
	result, apiErr := s.do(r, method, params)
	status := 200
	if apiErr != nil {
		status = apiErr.Code
	}
	s.record(method, params, status)
	if fault != nil && fault.Half {
		w.Header().Set("Content-Length", "1000")
		io.WriteString(w, `{"ok":true,"resu`)
		panic(http.ErrAbortHandler)
	}
	answer(w, result, apiErr)
}

func (s *Server) record(method string, params map[string]any, status int) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.Counts[method]++
	if s.keepLog && method != "getUpdates" {
		s.calls = append(s.calls, Call{method, params, s.now(), status})
	}
}

// fault finds what is to go wrong with a call.
func (s *Server) fault(method string, params map[string]any) *Fault {
	s.mu.Lock()
	defer s.mu.Unlock()
	chat, _ := params["chat_id"].(float64)
	for i, f := range s.faults[method] {
		if f.Chat != 0 && f.Chat != int64(chat) {
			continue
		}
		if f.Times == 0 || f.Times == 1 {
			s.faults[method] = append(s.faults[method][:i:i], s.faults[method][i+1:]...)
		} else if f.Times > 0 {
			f.Times--
		}
		return f
	}
	return nil
}

func answer(w http.ResponseWriter, result any, err *apiError) {
	w.Header().Set("Content-Type", "application/json")
	if err == nil {
		json.NewEncoder(w).Encode(map[string]any{"ok": true, "result": result})
		return
	}
	out := map[string]any{"ok": false, "error_code": err.Code, "description": err.Text}
	more := map[string]any{}
	if err.RetryAfter > 0 {
		more["retry_after"] = err.RetryAfter
	}
	if err.MoveTo != 0 {
		more["migrate_to_chat_id"] = err.MoveTo
	}
	if len(more) > 0 {
		out["parameters"] = more
	}
	w.WriteHeader(err.Code)
	json.NewEncoder(w).Encode(out)
}

// params reads a call's parameters from JSON, a form, or a multipart form.
func (s *Server) params(method string, r *http.Request) (map[string]any, error) {
	out := map[string]any{}
	kind, more, _ := mime.ParseMediaType(r.Header.Get("Content-Type"))
	switch kind {
	case "application/json":
		return out, json.NewDecoder(r.Body).Decode(&out)
	case "multipart/form-data":
		parts := multipart.NewReader(r.Body, more["boundary"])
		for {
			p, err := parts.NextPart()
			if err == io.EOF || err != nil && s.takesNothing(method) {
				return out, nil // the library's calls without parameters have no parts, not even an end
			}
			if err != nil {
				return nil, err
			}
			data, err := io.ReadAll(io.LimitReader(p, 64<<20))
			if err != nil {
				return nil, err
			}
			if p.FileName() != "" {
				out[p.FormName()] = file(data)
			} else {
				out[p.FormName()] = s.table.typed(method, p.FormName(), string(data))
			}
		}
	}
	if err := r.ParseForm(); err != nil {
		return nil, err
	}
	for name, values := range r.Form {
		out[name] = s.table.typed(method, name, values[0])
	}
	return out, nil
}

func (s *Server) takesNothing(method string) bool {
	return method == "getMe" || method == "getWebhookInfo"
}

func (s *Server) problem(format string, args ...any) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.problems = append(s.problems, fmt.Sprintf(format, args...))
}
