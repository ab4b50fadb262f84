package apitest

import (
	"bytes"
	"encoding/json"
	"io"
	"net/http"
	"strconv"
	"time"
)

// queued is an update that has not been confirmed.
type queued struct {
	id   int64
	lane int64 // chat, or person for presses: one at a time by webhook
	raw  json.RawMessage
}

type hook struct {
	URL, Secret string
	failing     string
}

// Push queues an update, under a number of its own unless it has one, and gives the
// number.
func (s *Server) Push(lane int64, u map[string]any) int64 {
	s.mu.Lock()
	defer s.mu.Unlock()
	if _, ok := u["update_id"]; !ok {
		s.nextID++
		u["update_id"] = s.nextID
	}
	raw, err := json.Marshal(u)
	if err != nil {
		panic(err)
	}
	id := u["update_id"].(int64)
	s.add(queued{id, lane, raw})
	return id
}

// PushRaw queues an update as it is.
func (s *Server) PushRaw(lane int64, id int64, raw string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.nextID = max(s.nextID, id)
	s.add(queued{id, lane, json.RawMessage(raw)})
}

func (s *Server) add(q queued) {
	s.updates = append(s.updates, q)
	close(s.changed)
	s.changed = make(chan struct{})
}

// Pending is how many updates have not been confirmed.
func (s *Server) Pending() int { s.mu.Lock(); defer s.mu.Unlock(); return len(s.updates) }

// getUpdates is long polling: an offset confirms all before it; a newer poll or a
// webhook ends an older one with 409.
func (s *Server) getUpdates(r *http.Request, p map[string]any) (any, *apiError) {
	number := func(name string, or int) int {
		if v, ok := p[name].(float64); ok {
			return int(v)
		}
		return or
	}
	offset, limit := int64(number("offset", 0)), min(number("limit", 100), 100)
	deadline := time.NewTimer(time.Duration(number("timeout", 0)) * time.Second)
	defer deadline.Stop()
	s.mu.Lock()
	s.polls++
	mine := s.polls
	close(s.changed)
	s.changed = make(chan struct{})
	s.mu.Unlock()
	for {
		s.mu.Lock()
		if s.webhook != nil || s.polls != mine {
			s.mu.Unlock()
			return nil, &apiError{Code: 409, Text: "Conflict: terminated by other getUpdates request; make sure that only one bot instance is running"}
		}
		s.confirm(offset)
		var out []json.RawMessage
		for i := 0; i < len(s.updates) && i < limit; i++ {
			out = append(out, s.updates[i].raw)
		}
		changed := s.changed
		s.mu.Unlock()
		if len(out) > 0 {
			return out, nil
		}
		select {
		case <-changed:
		case <-deadline.C:
			return []json.RawMessage{}, nil
		case <-r.Context().Done():
			return []json.RawMessage{}, nil
		case <-s.closed:
			return []json.RawMessage{}, nil
		}
	}
}

func (s *Server) confirm(offset int64) {
	if offset <= 0 {
		return
	}
	keep := s.updates[:0]
	for _, q := range s.updates {
		if q.id >= offset {
			keep = append(keep, q)
		}
	}
	s.updates = keep
}

func (s *Server) hookCall(method string, p map[string]any) (any, *apiError) {
	s.mu.Lock()
	defer s.mu.Unlock()
	switch method {
	case "getWebhookInfo":
		info := map[string]any{"url": "", "has_custom_certificate": false, "pending_update_count": len(s.updates)}
		if s.webhook != nil {
			info["url"] = s.webhook.URL
			if s.webhook.failing != "" {
				info["last_error_message"], info["last_error_date"] = s.webhook.failing, s.now().Unix()
			}
		}
		return info, nil
	case "deleteWebhook":
		s.webhook = nil
	case "setWebhook":
		secret, _ := p["secret_token"].(string)
		url, _ := p["url"].(string)
		if s.webhook != nil && s.webhook.URL == url && s.webhook.Secret == secret {
			break // as it is: another replica says the same
		}
		s.webhook = &hook{URL: url, Secret: secret}
		close(s.changed)
		s.changed = make(chan struct{})
		go s.deliver(s.webhook)
	}
	return true, nil
}

// deliver brings updates to the webhook: for each chat one at a time and in order,
// again after a pause when the answer is not 200.
func (s *Server) deliver(h *hook) {
	busy, results := map[int64]bool{}, make(chan deliveredTo, 64)
	pause := map[int64]time.Time{}
	tick := time.NewTicker(20 * time.Millisecond)
	defer tick.Stop()
	for {
		s.mu.Lock()
		if s.webhook != h {
			s.mu.Unlock()
			return
		}
		for _, q := range s.updates {
			if !busy[q.lane] && s.now().After(pause[q.lane]) && len(busy) < 40 {
				busy[q.lane] = true
				go func() { results <- s.bring(h, q) }()
			}
		}
		changed := s.changed
		s.mu.Unlock()
		select {
		case d := <-results:
			delete(busy, d.lane)
			s.mu.Lock()
			if d.again > 0 {
				pause[d.lane] = s.now().Add(d.again)
			} else {
				for i, q := range s.updates {
					if q.id == d.id {
						s.updates = append(s.updates[:i:i], s.updates[i+1:]...)
						break
					}
				}
			}
			s.mu.Unlock()
		case <-changed:
		case <-tick.C:
		case <-s.closed:
			return
		}
	}
}

type deliveredTo struct {
	id, lane int64
	again    time.Duration
}

func (s *Server) bring(h *hook, q queued) deliveredTo {
	d := deliveredTo{id: q.id, lane: q.lane, again: 100 * time.Millisecond}
	req, err := http.NewRequest(http.MethodPost, h.URL, bytes.NewReader(q.raw))
	if err != nil {
		return d
	}
	req.Header.Set("Content-Type", "application/json")
	req.Header.Set("X-Telegram-Bot-Api-Secret-Token", h.Secret)
	client := http.Client{Timeout: 10 * time.Second}
	resp, err := client.Do(req)
	if err != nil {
		return d
	}
	defer resp.Body.Close()
	io.Copy(io.Discard, resp.Body)
	if resp.StatusCode/100 == 2 {
		d.again = 0
	} else if sec, err := strconv.Atoi(resp.Header.Get("Retry-After")); err == nil {
		d.again = time.Duration(sec) * time.Second
	} else {
		s.mu.Lock()
		h.failing = resp.Status
		s.mu.Unlock()
	}
	return d
}
