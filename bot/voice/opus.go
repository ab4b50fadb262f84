package voice

import (
	"bytes"
	"errors"
	"fmt"
	"io"

	"github.com/thesyncim/gopus"
	"github.com/thesyncim/gopus/container/ogg"
)

// preSkipRate is what the ogg mapping of opus counts in, whatever the sound is.
const preSkipRate = 48000

// decodeOpus reads an ogg/opus voice note and writes its samples as they come,
// until the end or one sample over the limit. It runs in a child process only: what
// it reads was sent by anybody.
func decodeOpus(r io.Reader, w io.Writer) error {
	in, err := ogg.NewReader(r)
	if err != nil {
		return err
	}
	if in.Header.MappingFamily != 0 {
		return errors.New("more than two channels")
	}
	cfg := gopus.DefaultDecoderConfig(Rate, 1) // a stereo note is mixed by the decoder
	dec, err := gopus.NewDecoder(cfg)
	if err != nil {
		return err
	}
	pcm := make(Sound, cfg.MaxPacketSamples)
	skip := int(in.Header.PreSkip) * Rate / preSkipRate
	for left := maxSamples + 1; left > 0; {
		packet, _, err := in.ReadPacket()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
		n, err := dec.DecodeInt16(packet, pcm)
		if err != nil {
			n = 0 // one bad packet is a click, not the end of the note
		}
		s := pcm[min(skip, n):n]
		skip -= n - len(s)
		s = s[:min(left, len(s))]
		left -= len(s)
		if _, err := w.Write(s.bytes()); err != nil {
			return err
		}
	}
	return nil
}

// EncodeOpus makes a voice note: ogg/opus, mono, tuned for speech.
func EncodeOpus(s Sound) ([]byte, error) {
	const bitrate, frame = 32000, Rate / 50
	enc, err := gopus.NewEncoder(gopus.EncoderConfig{SampleRate: Rate, Channels: 1, Application: gopus.ApplicationVoIP})
	if err != nil {
		return nil, err
	}
	if err := errors.Join(enc.SetBitrate(bitrate), enc.SetFrameSize(frame)); err != nil {
		return nil, err
	}
	var out bytes.Buffer
	w, err := ogg.NewWriter(&out, Rate, 1)
	if err != nil {
		return nil, err
	}
	packet := make([]byte, 4000)
	for from := 0; from < len(s)+enc.Lookahead(); from += frame {
		pcm := make(Sound, frame) // the last frames are filled up with silence
		copy(pcm, s[min(from, len(s)):min(from+frame, len(s))])
		n, err := enc.EncodeInt16(pcm, packet)
		if err != nil {
			return nil, fmt.Errorf("opus: %w", err)
		}
		if err := w.WritePacket(packet[:n], frame*preSkipRate/Rate); err != nil {
			return nil, err
		}
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}
