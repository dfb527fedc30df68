package main

import (
	"bytes"
	"errors"
	"io"
	"net/http"
	"strings"
	"time"

	"whorl.example/schema"
	"whorl.example/wasm/api"
)

// The limits of a request.
const (
	maxBody   = 4 << 20 // bytes: a horse's lifetime of exams is under one
	maxLasted = 10 * time.Second
	// What is over the limit is read and thrown away up to here: an answer that comes while the
	// other side still sends may be lost on the way.
	maxDrained = 4 * maxBody
)

// Answers of the worker itself, in the form of package api.
const (
	tooLarge  = `{"ok":false,"faults":[{"code":"too-large","path":"","sentence":"The request is over 4 MiB."}]}`
	tooSlow   = `{"ok":false,"faults":[{"code":"too-slow","path":"","sentence":"The request took longer than ten seconds to arrive."}]}`
	cutOff    = `{"ok":false,"faults":[{"code":"cut-off","path":"","sentence":"The request broke off."}]}`
	notPosted = `{"ok":false,"faults":[{"code":"method","path":"","sentence":"Operations are asked for with POST, the schema with GET."}]}`
	internal  = `{"ok":false,"faults":[{"code":"internal","path":"","sentence":"Whorl itself failed here. Nothing was kept of the request."}]}`
)

// guard makes a typed answer of a panic, which the platform would answer with a bare 500.
func guard(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, q *http.Request) {
		defer func() {
			if recover() != nil {
				write(w, http.StatusInternalServerError, []byte(internal))
			}
		}()
		next.ServeHTTP(w, q)
	})
}

func answer(w http.ResponseWriter, q *http.Request) {
	op := strings.TrimPrefix(q.URL.Path, "/")
	switch {
	case q.Method == http.MethodGet && op == "schema":
		w.Header().Set("Content-Type", "application/schema+json")
		io.WriteString(w, string(schema.JSONSchema()))
		return
	case q.Method != http.MethodPost:
		w.Header().Set("Allow", "POST")
		write(w, http.StatusMethodNotAllowed, []byte(notPosted))
		return
	case q.ContentLength > maxDrained:
		write(w, http.StatusRequestEntityTooLarge, []byte(tooLarge))
		return
	}
	body, err := read(q.Body)
	switch {
	case errors.Is(err, errLarge):
		write(w, http.StatusRequestEntityTooLarge, []byte(tooLarge))
		return
	case errors.Is(err, errSlow):
		write(w, http.StatusRequestTimeout, []byte(tooSlow))
		return
	case err != nil:
		write(w, http.StatusBadRequest, []byte(cutOff))
		return
	}
	said := api.Call(op, body)
	status := http.StatusOK
	if bytes.HasPrefix(said, []byte(`{"ok":false`)) {
		status = http.StatusUnprocessableEntity
		switch {
		case bytes.Contains(said, []byte(`"code":"`+string(api.UnknownOp)+`"`)):
			status = http.StatusNotFound
		case bytes.Contains(said, []byte(`"code":"`+string(api.Internal)+`"`)):
			status = http.StatusInternalServerError
		}
	}
	write(w, status, said)
}

var errLarge, errSlow = errors.New("too large"), errors.New("too slow")

// read reads a body to its end, its limit or its time.
func read(body io.Reader) ([]byte, error) {
	type got struct {
		text []byte
		err  error
	}
	done := make(chan got, 1)
	go func() {
		text, err := io.ReadAll(io.LimitReader(body, maxBody+1))
		if len(text) > maxBody {
			io.Copy(io.Discard, io.LimitReader(body, maxDrained))
		}
		done <- got{text, err}
	}()
	timer := time.NewTimer(maxLasted)
	defer timer.Stop()
	select {
	case g := <-done:
		if len(g.text) > maxBody {
			return nil, errLarge
		}
		return g.text, g.err
	case <-timer.C:
		return nil, errSlow
	}
}

func write(w http.ResponseWriter, status int, text []byte) {
	h := w.Header()
	h.Set("Content-Type", "application/json")
	h.Set("Cache-Control", "no-store") // an exam is nobody else's
	h.Set("X-Content-Type-Options", "nosniff")
	w.WriteHeader(status)
	w.Write(text)
}
