package telegram

import (
	"bytes"
	"encoding/json"
	"io"
	"net/http"
)

// brief leaves of a message in the server's answer its number, which is all that we
// read of it. The library refuses a whole answer over one thing in it that is newer than
// itself, and the message that ours quotes is in it as somebody sent it: ours would be
// taken for not sent, and go out again and again.
type brief struct{ *http.Client }

// Do makes the call.
func (b brief) Do(r *http.Request) (*http.Response, error) {
	resp, err := b.Client.Do(r)
	if err != nil {
		return nil, err
	}
	defer resp.Body.Close()
	body, err := io.ReadAll(resp.Body)
	if err != nil {
		return nil, err
	}
	resp.Body = io.NopCloser(bytes.NewReader(shortened(body)))
	return resp, nil
}

// shortened is an answer with a message in it cut down to its number, and any other
// answer as it came.
func shortened(body []byte) []byte {
	var answer struct {
		OK     bool `json:"ok"`
		Result struct {
			Number int64 `json:"message_id"`
		} `json:"result"`
	}
	if json.Unmarshal(body, &answer) != nil || !answer.OK || answer.Result.Number == 0 {
		return body
	}
	short, err := json.Marshal(answer)
	if err != nil {
		return body
	}
	return short
}
