package telegram

import (
	"encoding/json"
	"testing"
)

// FuzzIncoming: whatever the server brings, an update with a number is stored under
// it, and taking it apart does not trip us.
func FuzzIncoming(f *testing.F) {
	for _, seed := range []string{
		`{"update_id":1,"message":{"message_id":2,"date":3,"text":"@tankside_bot log load","from":{"id":4},"chat":{"id":-5,"type":"group"},"entities":[{"type":"mention","offset":0,"length":13}]}}`,
		`{"update_id":1,"edited_message":{"message_id":2,"text":"🚜 /log","entities":[{"type":"text_mention","offset":-1,"length":99,"user":{"id":0}}]}}`,
		`{"update_id":1,"callback_query":{"id":"x","data":"b1.0","from":{"id":1}}}`,
		`{"update_id":1,"inline_query":{}}`, `{"update_id":1,"message":[]}`, `{}`, `[]`, ``, `{"update_id":"x"}`,
	} {
		f.Add(seed)
	}
	name := "tankside_bot"
	b := &Bot{}
	b.name.Store(&name)
	j := &job{Bot: b}
	f.Fuzz(func(t *testing.T, raw string) {
		in, ok := incoming([]byte(raw))
		if !ok {
			return
		}
		if in.Number == 0 || string(in.Raw) != raw {
			t.Errorf("kept as %+v", in)
		}
		var u update
		if json.Unmarshal([]byte(raw), &u) != nil {
			return
		}
		for _, m := range []*message{u.Message, u.Edited} {
			if m != nil {
				text, _ := j.addressed(m)
				cutCommand(text)
				codeIn(text)
			}
		}
		if u.Callback != nil {
			buttonOf(u.Callback.Data)
		}
	})
}
