package voice

import (
	"encoding/binary"
	"errors"
	"math"
	"time"
)

// Rate is how many samples a second all sound in here has.
const Rate = 16000

// Sound is mono sound at Rate samples a second.
type Sound []int16

// Length is how long it takes to hear.
func (s Sound) Length() time.Duration { return time.Duration(len(s)) * time.Second / Rate }

// Loudness is the level in decibels below the loudest that can be, over all of it.
func (s Sound) Loudness() float64 {
	var sum float64
	for _, v := range s {
		sum += float64(v) * float64(v)
	}
	return 20 * math.Log10(math.Sqrt(sum/float64(max(len(s), 1)))/math.MaxInt16)
}

// WAV is the sound as a file that every program reads.
func (s Sound) WAV() []byte {
	b := make([]byte, 0, 44+2*len(s))
	b = append(b, "RIFF"...)
	b = binary.LittleEndian.AppendUint32(b, uint32(36+2*len(s)))
	b = append(b, "WAVEfmt "...)
	b = binary.LittleEndian.AppendUint32(b, 16)
	b = binary.LittleEndian.AppendUint16(b, 1) // PCM
	b = binary.LittleEndian.AppendUint16(b, 1) // one channel
	b = binary.LittleEndian.AppendUint32(b, Rate)
	b = binary.LittleEndian.AppendUint32(b, 2*Rate)
	b = binary.LittleEndian.AppendUint16(b, 2)
	b = binary.LittleEndian.AppendUint16(b, 16)
	b = append(b, "data"...)
	b = binary.LittleEndian.AppendUint32(b, uint32(2*len(s)))
	return append(b, s.bytes()...)
}

// bytes are the samples, little end first.
func (s Sound) bytes() []byte {
	b := make([]byte, 0, 2*len(s))
	for _, v := range s {
		b = binary.LittleEndian.AppendUint16(b, uint16(v))
	}
	return b
}

// soundOf reads samples, little end first.
func soundOf(b []byte) Sound {
	s := make(Sound, len(b)/2)
	for i := range s {
		s[i] = int16(binary.LittleEndian.Uint16(b[2*i:]))
	}
	return s
}

var errWAV = errors.New("not a mono 16-bit WAV")

// FromWAV reads a mono 16-bit WAV of any rate.
func FromWAV(b []byte) (Sound, error) {
	if len(b) < 12 || string(b[:4]) != "RIFF" || string(b[8:12]) != "WAVE" {
		return nil, errWAV
	}
	rate := 0
	for b = b[12:]; len(b) >= 8; {
		name, size := string(b[:4]), int(binary.LittleEndian.Uint32(b[4:]))
		b = b[8:]
		// A program that writes to a pipe cannot know the size and writes a huge one.
		body := b[:min(size, len(b))]
		switch {
		case name == "fmt " && len(body) >= 16:
			if binary.LittleEndian.Uint16(body) != 1 || binary.LittleEndian.Uint16(body[2:]) != 1 || binary.LittleEndian.Uint16(body[14:]) != 16 {
				return nil, errWAV
			}
			rate = int(binary.LittleEndian.Uint32(body[4:]))
		case name == "data" && rate > 0:
			return soundOf(body).from(rate), nil
		}
		b = b[min(size+size%2, len(b)):]
	}
	return nil, errWAV
}

// from brings sound of another rate to Rate, with a windowed sinc: linear
// interpolation would fold hiss into the band that consonants live in.
func (s Sound) from(rate int) Sound {
	if rate == Rate || len(s) == 0 {
		return s
	}
	const reach = 16
	step := float64(rate) / Rate
	cut := min(1, 1/step)
	out := make(Sound, int(float64(len(s))/step))
	for i := range out {
		at, sum := float64(i)*step, 0.0
		wide := reach / cut
		for j := max(0, int(at-wide)+1); j <= min(len(s)-1, int(at+wide)); j++ {
			x := at - float64(j)
			sum += float64(s[j]) * cut * sinc(cut*x) * (0.5 + 0.5*math.Cos(math.Pi*x/wide))
		}
		out[i] = clip(sum)
	}
	return out
}

func sinc(x float64) float64 {
	if x == 0 {
		return 1
	}
	return math.Sin(math.Pi*x) / (math.Pi * x)
}

func clip(x float64) int16 {
	return int16(math.Round(min(max(x, math.MinInt16), math.MaxInt16)))
}
