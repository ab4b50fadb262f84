package voice

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"slices"
	"strconv"
	"strings"
	"time"
)

// childWord as the first argument makes the program a child with limits. Whatever
// touches sound from outside runs in one.
const childWord = "voice-child"

// decodeWord in place of a program's name is our own decoder.
const decodeWord = "decode"

// bounds are what a child may use.
type bounds struct {
	Time   time.Duration // on the clock; CPU time is held to the same
	Memory int           // MB
	Out    int           // bytes of its output that are read
}

// errOutput is output that does not end where it should.
var errOutput = errors.New("writes more than it should")

// Child must be called first by every program that uses this package: when the
// arguments say that this process is a child, it puts the limits on, does the
// child's work and does not return.
func Child(args []string) {
	if len(args) < 5 || args[1] != childWord {
		return
	}
	seconds, err := strconv.Atoi(args[2])
	memory, err2 := strconv.Atoi(args[3])
	if err = errors.Join(err, err2); err == nil {
		err = confine(seconds)
	}
	if argv := args[4:]; err == nil && argv[0] == decodeWord {
		if err = confineMemory(memory + detector); err == nil {
			err = decodeOpus(struct{ io.Reader }{os.Stdin}, os.Stdout) // a pipe says it can seek, but cannot
		}
	} else if err == nil {
		err = become(argv, memory)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	os.Exit(0)
}

// run runs a program in a child with limits and gives what it wrote.
func run(ctx context.Context, b bounds, stdin io.Reader, argv ...string) ([]byte, error) {
	self, err := os.Executable()
	if err != nil {
		return nil, err
	}
	if argv[0] != decodeWord {
		if _, err := exec.LookPath(argv[0]); err != nil {
			return nil, missing(argv[0])
		}
	}
	ctx, stop := context.WithTimeout(ctx, b.Time)
	defer stop()
	args := append([]string{childWord, strconv.Itoa(max(1, int(b.Time/time.Second))), strconv.Itoa(b.Memory)}, argv...)
	cmd := exec.CommandContext(ctx, self, args...)
	out, complaint := &limited{left: b.Out, full: stop}, &limited{left: 4 << 10}
	cmd.Env, cmd.Stdin, cmd.Stdout, cmd.Stderr = environment(), stdin, out, complaint
	cmd.WaitDelay = time.Second // a grandchild may keep the pipes open
	alone(cmd)
	err = cmd.Run()
	switch {
	case out.over:
		return nil, fmt.Errorf("%s: %w", argv[0], errOutput)
	case ctx.Err() != nil:
		return nil, fmt.Errorf("%s: %w", argv[0], context.Cause(ctx))
	case err != nil:
		return nil, fmt.Errorf("%s: %w: %s", argv[0], err, lastLine(string(complaint.kept)))
	}
	return out.kept, nil
}

// environment leaves out what is no business of a child, such as keys and addresses.
func environment() []string {
	keep := []string{"PATH", "HOME", "TMPDIR", "LANG", "LC_ALL", "LD_LIBRARY_PATH", "SYSTEMROOT"}
	return slices.DeleteFunc(os.Environ(), func(v string) bool {
		name, _, _ := strings.Cut(v, "=")
		return !slices.Contains(keep, name)
	})
}

// limited keeps the first bytes written to it.
type limited struct {
	kept []byte
	left int
	over bool
	full func() // called when there is more, unless it is nil
}

func (l *limited) Write(p []byte) (int, error) {
	n := min(len(p), l.left)
	l.left -= n
	l.kept = append(l.kept, p[:n]...)
	if n < len(p) && l.full != nil {
		l.over = true
		l.full()
	}
	return len(p), nil
}

func lastLine(s string) string {
	lines := strings.Split(strings.TrimSpace(s), "\n")
	return tidy(lines[len(lines)-1])
}

// packages says where the programs come from.
var packages = map[string]string{
	"pocketsphinx_batch": "pocketsphinx", "espeak-ng": "espeak-ng", "ffmpeg": "ffmpeg", "flite": "flite",
}

// ErrMissing is a program that is not installed.
var ErrMissing = errors.New("is missing")

func missing(program string) error {
	if p, ok := packages[program]; ok {
		return fmt.Errorf("%s %w: apt-get install %s", program, ErrMissing, p)
	}
	return fmt.Errorf("%s %w", program, ErrMissing)
}
