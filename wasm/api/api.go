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
// OPERATIONS.md. Call never panics, whatever it is given.
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
		f.Sentence = words.Fault(lang, string(f.Code), f.Args...)
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
		// `{"on"}`: from then on histories are remembered by their text (at most 32, 4 MB), so that the second call on one needs
		// neither decoding nor fitting; off, as at first, nothing is held between calls
		return serve(remember)
	case "version":
		// `{"version","kind","format","langs"}`: of the library and of the files that it writes
		return serve(version)
	case "words":
		// every message of the language, by key
		return serve(messages)
	case "catalogue":
		// `{"signs","alarms","sources","cautions","types","sexes","stages",…}`: what can be examined and what is known of it
		return serve(catalogue)
	case "figures":
		// `{"parts":[{"heading","rows":[{"what","figure","for","mark","doubt","work","note"}…]}…],"works"}`: every number that
		// the library decides or computes with, and its source; `work` counts `works` from 1
		return serve(figures)
	case "steps":
		// `[{"sign","depth","sites"}…]`: the order in which the signs are asked
		return serve(steps)
	case "measure":
		// `{"measure","shown","how","advice"}`; girth and length need horse and at; shown, how and advice (a longer count is
		// due) are said in the language
		return serve(measure)
	case "taps":
		// `{"measure","taps","doubled","gaps","missing","seconds","rhythm","shown","how"}`; a refused series is an error
		return serve(taps)
	case "compare":
		// `{"comparison","heading","remarks","said","rulers"}`: `said` and `rulers` are by `sign` or `sign/site`: the sentences
		// of each sign, its SVG
		return serve(compare)
	case "alarms":
		// `{"fired","level","said","waits","first"}`: the rules on when to call that fire in an exam by itself, in order or not,
		// after each answer; `level` is the most urgent (`now`, `soon`, `again`, or empty), `said` goes with `fired`, `waits` is
		// what to do and to leave while waiting, by problem and animal, `first` what comes before the call
		return serve(alarms)
	case "explain":
		// `{"explanation","said","exam","known"}`: what stands behind each statement, as data and in sentences; `said` by `sign`
		// or `sign/site`, `exam` of the exam as a whole, `known` of how well each measured sign is known
		return serve(explain)
	case "report":
		// `{"report","text","aloud"}`: `aloud` is what is read on the telephone, by chunk, with the numbers in words
		return serve(tell)
	case "history":
		// what the record holds of one sign: `{"chart","rows","now"}`, the chart as SVG with what was usual before each reading,
		// the rows as the same to read
		return serve(history)
	case "known":
		// `{"exams","lastAt","signs","lessons","due","stage","said","whorl"}` for the barn's list; `due` is when the next
		// practice exam is
		return serve(known)
	case "normal":
		// `{"rows":[{"sign","site","name","usual","value","at","exams","lane"}…]}`: what is usual for the horse, sign by sign,
		// beside the latest finding, and drawn
		return serve(normal)
	case "watch":
		// `{"series","telling","alarms","latest"}` since the exam `first`, which rechecks name: the course of each sign, said
		// (direction first) and drawn; which signs to look at again and why; the rules that fired in the newest exam
		return serve(recheckSeries)
	case "recovery":
		// `{"recovery","said","curve","earlier"}` of the bout of work with the exam `of`, or the last: criteria by limit,
		// trot-outs by definition, the horse's own, drawn
		return serve(recoveries)
	case "plan":
		// `{"plan","said","next","due"}`: the exams that would teach most; takes seconds on a telephone
		return serve(plan)
	case "schema":
		// `{"text"}`, the JSON Schema of the barn file
		return serve(jsonSchema)
	case "check":
		// `{"faults":[…]}` of a horse, an exam or both: an answer, not an error
		return check
	case "read":
		// the barn file in the text, checked and in canonical form
		return serve(read)
	case "write":
		// `{"text"}`, the barn file in canonical form
		return serve(write)
	case "merge":
		// `{"file","fresh"}`: one file of both, and the conflicts that neither had
		return serve(merge)
	case "link":
		// `{"fragment","link","code","shorter"}`, with where the rechecks went (a code without room for that is `shorter`);
		// `code` is `{"text","version","level","svg"}`, or absent where the exam is too long for a code
		return serve(handOver)
	case "open":
		// what `compare` and `report` give, with `horse`, `exam` and `watched`, as the sender's history had it; with `page` the
		// `code` too
		return serve(open)
	case "answer":
		// `{"fragment","link","code"}` of a clinic's answer to an exam that it received, a text of its own
		return serve(answer)
	case "answered":
		// `{"answer"}` of a fragment: anybody can have written it
		return serve(answered)
	case "sheet":
		// `{"text"}`, CSV with a byte order mark
		return serve(table)
	case "fhir":
		// `{"text"}`, a FHIR R4 document bundle of an exam, or of the fragment of a link
		return serve(exported)
	case "pack":
		// `{"pack","faults","lines"}`: a clinic's file from its text, or its faults and the line of each; as data it goes into
		// other requests as `"pack"`
		return serve(packs)
	case "calendar":
		// `{"text"}`, iCalendar; an event is
		// `{"uid","start","minutes","everyDays","times","summary","description","remindMinutes"}`
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
func (s spoken) learned(horse vitals.Horse, exams []vitals.Exam) (*baseline.Baseline, error) {
	if s.past != nil {
		return s.past.baseline, nil
	}
	return baseline.Of(horse, exams)
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
				err = before.remember(*horse, *exams)
			}
			if err != nil {
				return nil, q.in(), err
			}
			*past = before
		}
		value, err := do(q)
		return value, q.in(), err
	}
}
