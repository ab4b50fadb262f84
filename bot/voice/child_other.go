//go:build !linux && !darwin

package voice

import (
	"os"
	"os/exec"
)

// confine has nothing to offer here: the parent's clock is the only limit.
func confine(seconds int) error { return nil }

func confineMemory(megabytes int) error { return nil }

// become runs a program in place of this one.
func become(argv []string, megabytes int) error {
	cmd := exec.Command(argv[0], argv[1:]...)
	cmd.Stdin, cmd.Stdout, cmd.Stderr = os.Stdin, os.Stdout, os.Stderr
	return cmd.Run()
}

func alone(*exec.Cmd) {}
