//go:build linux || darwin

package voice

import (
	"os"
	"os/exec"
	"strconv"
	"syscall"
)

// confine puts limits on this process and on whatever it becomes, but for memory.
func confine(seconds int) error {
	for what, most := range map[int]uint64{
		syscall.RLIMIT_CPU:   uint64(seconds),
		syscall.RLIMIT_FSIZE: 64 << 20,
		syscall.RLIMIT_CORE:  0,
	} {
		if err := limit(what, most); err != nil {
			return err
		}
	}
	// A note must not make people who type wait.
	return syscall.Setpriority(syscall.PRIO_PROCESS, 0, 10)
}

// confineMemory limits data, not address space: Go and others reserve much more than
// they use.
func confineMemory(megabytes int) error {
	return limit(syscall.RLIMIT_DATA, uint64(megabytes)<<20)
}

func limit(what int, most uint64) error {
	return syscall.Setrlimit(what, &syscall.Rlimit{Cur: most, Max: most})
}

// become turns this process into a program that has so much memory. A shell puts that
// limit on: this process may have more already (under the race detector it has), and
// would die of the next page its runtime asks for.
func become(argv []string, megabytes int) error {
	path, err := exec.LookPath(argv[0])
	if err != nil {
		return err
	}
	shell := []string{"sh", "-c", `ulimit -d "$0" && exec "$@"`, strconv.Itoa(megabytes << 10), path}
	return syscall.Exec("/bin/sh", append(shell, argv[1:]...), os.Environ())
}

// alone puts a command into a group of its own, so that its children end with it.
func alone(cmd *exec.Cmd) {
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	cmd.Cancel = func() error { return syscall.Kill(-cmd.Process.Pid, syscall.SIGKILL) }
}
