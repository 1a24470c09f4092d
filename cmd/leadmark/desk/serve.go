package desk

import (
	"context"
	"errors"
	"net"
	"net/http"
	"time"
)

// Serve answers on a listener until ctx ends; then runs that are followed are left in order.
func (s *Server) Serve(ctx context.Context, l net.Listener) error {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	s.ctx = ctx
	s.guard.Listen(l.Addr())
	server := &http.Server{
		Handler: s.guard.Before(bounded(s.routes()), s.refuse), ReadHeaderTimeout: headerTime,
		ReadTimeout: bodyTime, IdleTimeout: idleTime, MaxHeaderBytes: mostHeader,
		ErrorLog: s.o.Log, BaseContext: func(net.Listener) context.Context { return ctx },
	}
	failed := make(chan error, 1)
	go func() { failed <- server.Serve(l) }()
	var err error
	select {
	case err = <-failed:
	case <-ctx.Done():
		end, stop := context.WithTimeout(context.Background(), shutTime)
		if server.Shutdown(end) != nil {
			_ = server.Close()
		}
		stop()
	}
	cancel()
	s.runs.Wait()
	if errors.Is(err, http.ErrServerClosed) {
		err = nil
	}
	return err
}

// bounded gives each answer its time.
func bounded(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		_ = http.NewResponseController(w).SetWriteDeadline(time.Now().Add(answerTime))
		next.ServeHTTP(w, r)
	})
}
