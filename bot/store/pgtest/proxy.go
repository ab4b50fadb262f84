//go:build unix

package pgtest

import (
	"io"
	"net"
	"sync"
	"time"
)

// Proxy stands between a program and a server, for faults of the network.
type Proxy struct {
	Address string

	to       string
	listener net.Listener
	mu       sync.Mutex
	open     map[net.Conn]bool
	stalled  chan struct{} // not nil: nothing moves until it is closed
	refuse   bool
	delay    time.Duration
}

// NewProxy listens on a port of the loopback for a server's socket.
func NewProxy(socket string) (*Proxy, error) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return nil, err
	}
	p := &Proxy{Address: l.Addr().String(), to: socket, listener: l, open: map[net.Conn]bool{}}
	go p.accept()
	return p, nil
}

func (p *Proxy) accept() {
	for {
		in, err := p.listener.Accept()
		if err != nil {
			return
		}
		go p.carry(in)
	}
}

func (p *Proxy) carry(in net.Conn) {
	defer in.Close()
	if !p.enter(in) {
		return
	}
	out, err := net.Dial("unix", p.to)
	if err != nil {
		return
	}
	defer out.Close()
	p.enter(out)
	var both sync.WaitGroup
	for _, way := range [][2]net.Conn{{in, out}, {out, in}} {
		both.Go(func() { p.copy(way[1], way[0]); in.Close(); out.Close() })
	}
	both.Wait()
	p.mu.Lock()
	delete(p.open, in)
	delete(p.open, out)
	p.mu.Unlock()
}

func (p *Proxy) enter(c net.Conn) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	if !p.refuse {
		p.open[c] = true
	}
	return !p.refuse
}

func (p *Proxy) copy(to io.Writer, from io.Reader) {
	buf := make([]byte, 32<<10)
	for {
		n, err := from.Read(buf)
		p.mu.Lock()
		stalled, delay := p.stalled, p.delay
		p.mu.Unlock()
		if stalled != nil {
			<-stalled
		}
		time.Sleep(delay)
		if n > 0 {
			if _, err := to.Write(buf[:n]); err != nil {
				return
			}
		}
		if err != nil {
			return
		}
	}
}

// Cut closes every connection; refuse keeps new ones out as well, until Heal.
func (p *Proxy) Cut(refuse bool) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.refuse = refuse
	for c := range p.open {
		c.Close()
	}
}

// Stall lets nothing through, while connections stay open on both sides: half-open.
func (p *Proxy) Stall() {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.stalled == nil {
		p.stalled = make(chan struct{})
	}
}

// Slow delays whatever passes.
func (p *Proxy) Slow(by time.Duration) { p.mu.Lock(); p.delay = by; p.mu.Unlock() }

// Heal ends every fault. What was held up goes through, late.
func (p *Proxy) Heal() {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.stalled != nil {
		close(p.stalled)
	}
	p.stalled, p.refuse, p.delay = nil, false, 0
}

// Close ends the proxy and all that passes through it.
func (p *Proxy) Close() {
	p.listener.Close()
	p.Cut(true)
	p.Heal()
}
