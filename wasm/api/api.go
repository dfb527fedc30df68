// Package api is Whorl as one function: [Call], with JSON in and out. The page, an edge
// worker and a WASI host all call it, so each of them gives the same bytes for the same
// request. It holds nothing between calls, but for what the op remember allows.
package api

import (
	"errors"
	"slices"

	"whorl.example/baseline"
	"whorl.example/schema"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// Version of Whorl, by semantic versioning.
const Version = "0.1.0"

// Codes of faults of a call itself.
const (
	UnknownOp   vitals.FaultCode = "unknown-op"
	UnknownLang vitals.FaultCode = "unknown-lang"
	// Internal: Whorl panicked. Nothing that the caller holds is touched.
	Internal vitals.FaultCode = "internal"
)

// Call runs one operation. The answer is {"ok":true,"value":…}, or
// {"ok":false,"faults":[{"code","path","sentence"}…]} with every fault of the request,
// in the language that the request asks for. The operations and their requests are in
// DEVELOPERS.md. Call never panics, whatever it is given.
func Call(op string, request []byte) (answer []byte) {
	defer func() {
		if recover() != nil {
			answer = refusal(words.English, fault(Internal, ""))
		}
	}()
	run := find(op)
	if run == nil {
		return refusal(words.English, fault(UnknownOp, "", "op", op))
	}
	value, lang, err := run(request)
	if err == nil {
		var text []byte
		if text, err = schema.Marshal(value); err == nil {
			return append(append([]byte(`{"ok":true,"value":`), text...), '}')
		}
	}
	faults, ok := errors.AsType[vitals.Faults](err)
	if !ok {
		// Every error of the floors below is Faults; one that is not is ours to mend.
		faults = vitals.Faults{fault(Internal, "")}
	}
	return refusal(lang, faults...)
}

// refusal is the answer that lists faults.
func refusal(lang words.Lang, faults ...vitals.Fault) []byte {
	text, err := schema.Marshal(struct {
		OK     bool          `json:"ok"`
		Faults vitals.Faults `json:"faults"`
	}{Faults: say(lang, faults)})
	if err != nil {
		// An op's name that is not UTF-8: the one text here that no decoder has seen.
		return []byte(`{"ok":false,"faults":[{"code":"bad-text","path":"","sentence":"` +
			words.Say(words.English, "fault.bad-text") + `"}]}`)
	}
	return text
}

func fault(code vitals.FaultCode, path string, args ...string) vitals.Fault {
	return vitals.Fault{Code: code, Path: path, Args: args}
}

// say puts the sentence of each fault into a language.
func say(lang words.Lang, faults vitals.Faults) vitals.Faults {
	out := make(vitals.Faults, len(faults))
	for i, f := range faults {
		f.Sentence = words.Say(lang, "fault."+string(f.Code), f.Args...)
		out[i] = f
	}
	return out
}

// operation runs one op; lang is the language in which its faults are said.
type operation func(request []byte) (value any, lang words.Lang, err error)

// find gives the operation of a name, nil if there is none.
func find(op string) operation {
	switch op {
	case "remember":
		return serve(remember)
	case "version":
		return serve(version)
	case "words":
		return serve(messages)
	case "catalogue":
		return serve(catalogue)
	case "figures":
		return serve(figures)
	case "steps":
		return serve(steps)
	case "measure":
		return serve(measure)
	case "taps":
		return serve(taps)
	case "compare":
		return serve(compare)
	case "alarms":
		return serve(alarms)
	case "explain":
		return serve(explain)
	case "report":
		return serve(tell)
	case "history":
		return serve(history)
	case "known":
		return serve(known)
	case "watch":
		return serve(watch)
	case "recovery":
		return serve(recovery)
	case "plan":
		return serve(plan)
	case "schema":
		return serve(jsonSchema)
	case "check":
		return check
	case "read":
		return serve(read)
	case "write":
		return serve(write)
	case "merge":
		return serve(merge)
	case "link":
		return serve(handOver)
	case "open":
		return serve(open)
	case "sheet":
		return serve(table)
	case "fhir":
		return serve(exported)
	case "pack":
		return serve(packs)
	case "calendar":
		return serve(diary)
	}
	return nil
}

// spoken is the part of every request that says in which language to answer.
type spoken struct {
	Lang words.Lang `json:"lang,omitempty"`
	past *past      // the history of the request, if it was remembered
}

// learned is the baseline of the request's history. Nothing may be learned by it.
func (s spoken) learned(horse vitals.Horse, exams []vitals.Exam) *baseline.Baseline {
	if s.past != nil {
		return s.past.baseline
	}
	return learned(horse, exams)
}

// in is the language asked for, or English.
func (s spoken) in() words.Lang {
	if !words.Known(s.Lang) {
		return words.English
	}
	return s.Lang
}

// known is nil if the language has a file, or none was asked for.
func (s spoken) known() vitals.Faults {
	if s.Lang == "" || words.Known(s.Lang) {
		return nil
	}
	return vitals.Faults{fault(UnknownLang, "/lang", "lang", string(s.Lang))}
}

type request interface {
	in() words.Lang
	known() vitals.Faults
}

// historical is a request whose history may be remembered: its faults are those of the history and of the rest,
// each by itself.
type historical interface {
	history() (*vitals.Horse, *[]vitals.Exam, **past)
}

// serve makes an operation of a function on a decoded request.
func serve[Q request](do func(Q) (any, error)) operation {
	return func(data []byte) (any, words.Lang, error) {
		var q Q
		h, remembers := any(&q).(historical)
		var before *past
		known := false
		if remembers {
			before, data, known = recall(data)
		}
		err := schema.Unmarshal(data, &q)
		if faults := q.known(); faults != nil {
			more, _ := errors.AsType[vitals.Faults](err)
			err = append(faults, more...)
		}
		if err != nil {
			return nil, q.in(), err
		}
		if before != nil {
			horse, exams, past := h.history()
			if known {
				*exams = slices.Clone(before.exams)
			} else {
				before.remember(*horse, *exams)
			}
			*past = before
		}
		value, err := do(q)
		return value, q.in(), err
	}
}
