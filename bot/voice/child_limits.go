//go:build linux || darwin

package voice

import (
	"os"
	"os/exec"
	"syscall"
)

// confine puts limits on this process and on whatever it becomes.
func confine(seconds, megabytes int) error {
	for what, most := range map[int]uint64{
		syscall.RLIMIT_CPU: uint64(seconds),
		// Data, not address space: Go and others reserve much more than they use.
		syscall.RLIMIT_DATA:  uint64(megabytes) << 20,
		syscall.RLIMIT_FSIZE: 64 << 20,
		syscall.RLIMIT_CORE:  0,
	} {
		if err := syscall.Setrlimit(what, &syscall.Rlimit{Cur: most, Max: most}); err != nil {
			return err
		}
	}
	// A note must not make people who type wait.
	return syscall.Setpriority(syscall.PRIO_PROCESS, 0, 10)
}

// become turns this process into a program.
func become(argv []string) error {
	path, err := exec.LookPath(argv[0])
	if err != nil {
		return err
	}
	return syscall.Exec(path, argv, os.Environ())
}

// alone puts a command into a group of its own, so that its children end with it.
func alone(cmd *exec.Cmd) {
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	cmd.Cancel = func() error { return syscall.Kill(-cmd.Process.Pid, syscall.SIGKILL) }
}
