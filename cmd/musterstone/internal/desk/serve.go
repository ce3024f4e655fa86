package desk

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"sync"
	"time"
)

// The limits of the server.
const (
	maxConnections = 128
	maxHeader      = 32 << 10
	headTime       = 5 * time.Second
	readTime       = 15 * time.Second
	writeTime      = 60 * time.Second
	idleTime       = 2 * time.Minute
	stopTime       = 5 * time.Second
)

// Serve answers on the listener until ctx is done, then lets the requests that have begun end.
func (d *Desk) Serve(ctx context.Context, l net.Listener) error {
	s := &http.Server{
		Handler:           d.Handler(),
		ReadHeaderTimeout: headTime, ReadTimeout: readTime, WriteTimeout: writeTime, IdleTimeout: idleTime,
		MaxHeaderBytes: maxHeader,
	}
	done := make(chan error, 1)
	go func() { done <- s.Serve(&limited{Listener: l, places: make(chan struct{}, maxConnections)}) }()
	select {
	case err := <-done:
		return fmt.Errorf("serve the review desk: %w", err)
	case <-ctx.Done():
	}
	stopping, cancel := context.WithTimeout(context.WithoutCancel(ctx), stopTime)
	defer cancel()
	if err := s.Shutdown(stopping); err != nil {
		s.Close()
	}
	if err := <-done; !errors.Is(err, http.ErrServerClosed) {
		return fmt.Errorf("serve the review desk: %w", err)
	}
	return nil
}

// limited is a listener with so many connections at once; further ones wait.
type limited struct {
	net.Listener
	places chan struct{}
}

func (l *limited) Accept() (net.Conn, error) {
	l.places <- struct{}{}
	c, err := l.Listener.Accept()
	if err != nil {
		<-l.places
		return nil, err
	}
	return &placed{Conn: c, leave: sync.OnceFunc(func() { <-l.places })}, nil
}

type placed struct {
	net.Conn
	leave func()
}

func (c *placed) Close() error {
	defer c.leave()
	return c.Conn.Close()
}
