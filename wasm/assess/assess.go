// Package assess is the command that compares an exam with the horse's history: records in, comparisons out.
//
//	assess record.json           the comparison, as JSON
//	assess -report record.json   the call report, as text
//	assess -lang en < stream     records on standard input, one a line
//
// A record is {"horse": …, "exams": […], "exam": …}: the horse, its history, and the exam
// to be compared (see schema/whorl-1.schema.json). The input is one record, or one a line. If anything in it is wrong, every
// fault goes to standard error, nothing to standard output, and the exit code is 2.
package assess

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"strings"

	"whorl.example/baseline"
	"whorl.example/baseline/report"
	"whorl.example/baseline/watch"
	"whorl.example/schema"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// Run takes what follows the command's name; the exit code is 0, 1 if the answer could not be
// written, or 2 if what was asked or given is wrong.
func Run(args []string, in io.Reader, out, errs io.Writer) int {
	flags := flag.NewFlagSet("assess", flag.ContinueOnError)
	flags.SetOutput(errs)
	asReport := flags.Bool("report", false, "write the call report instead of JSON")
	lang := flags.String("lang", string(words.English), "language of the report and of the faults")
	if err := flags.Parse(args); err != nil {
		return 2
	}
	said := words.Lang(*lang)
	if !words.Known(said) {
		fmt.Fprintf(errs, "assess: no messages in %q; there are %v\n", *lang, words.Langs())
		return 2
	}
	if flags.NArg() > 1 {
		fmt.Fprintln(errs, "assess: one file, or none for standard input")
		return 2
	}
	if flags.NArg() == 1 {
		file, err := os.Open(flags.Arg(0))
		if err != nil {
			fmt.Fprintln(errs, "assess:", err)
			return 2
		}
		defer file.Close()
		in = file
	}
	text, err := io.ReadAll(in)
	if err != nil {
		fmt.Fprintln(errs, "assess:", err)
		return 2
	}
	answer, faults := assess(text, *asReport, said)
	if len(faults) > 0 {
		for _, f := range faults {
			fmt.Fprintln(errs, f)
		}
		return 2
	}
	if _, err := out.Write(answer); err != nil {
		fmt.Fprintln(errs, "assess:", err)
		return 1
	}
	return 0
}

// assess answers every record of a text; faults are the lines to be written if any is wrong.
func assess(text []byte, asReport bool, lang words.Lang) (answer []byte, faults []string) {
	n := 0
	for record, err := range records(text) {
		n++
		one := []byte(nil)
		if err == nil {
			one, err = answerTo(record, asReport, lang)
		}
		if err != nil {
			faults = append(faults, lines(err, lang)...)
			continue
		}
		if asReport && len(answer) > 0 {
			answer = append(answer, '\n')
		}
		answer = append(answer, one...)
	}
	if n == 0 {
		faults = append(faults, lines(emptyInput(), lang)...)
	}
	return answer, faults
}

// records reads one record, or a stream of one a line. A text is a stream if more than
// one of its lines opens an object at its left edge, which a record written over several lines does once.
func records(text []byte) func(func(schema.Record, error) bool) {
	opens := 0
	for line := range bytes.Lines(text) {
		if line[0] == '{' {
			opens++
		}
	}
	if opens > 1 {
		return schema.Records(bytes.NewReader(text))
	}
	return func(yield func(schema.Record, error) bool) {
		if len(bytes.TrimSpace(text)) > 0 {
			yield(schema.DecodeRecord(text))
		}
	}
}

// emptyInput is the fault of a text without a record.
func emptyInput() error {
	_, err := schema.DecodeRecord(nil)
	return err
}

func answerTo(r schema.Record, asReport bool, lang words.Lang) ([]byte, error) {
	b, err := baseline.Of(r.Horse, r.Exams)
	if err != nil {
		return nil, err
	}
	c, err := b.Compare(r.Exam)
	if err != nil {
		if faults, ok := errors.AsType[vitals.Faults](err); ok {
			err = faults.At("/exam")
		}
		return nil, err
	}
	if asReport {
		return []byte(report.Call(report.Input{Horse: r.Horse, Exam: r.Exam, Comparison: c, Watched: watch.Of(b, r.Exam, r.Exams), Earlier: r.Exams}, lang).Text()), nil
	}
	text, err := schema.Marshal(c)
	return append(text, '\n'), err
}

// lines writes faults one a line, each with its place, in a language.
func lines(err error, lang words.Lang) []string {
	before := ""
	if at, ok := errors.AsType[*schema.LineError](err); ok {
		before = fmt.Sprintf("line %d: ", at.Line)
	}
	faults, ok := errors.AsType[vitals.Faults](err)
	if !ok {
		return []string{err.Error()}
	}
	out := make([]string, len(faults))
	for i, f := range faults {
		f.Sentence = words.Say(lang, "fault."+string(f.Code), f.Args...)
		out[i] = before + strings.TrimSpace(f.Error()) + " [" + string(f.Code) + "]"
	}
	return out
}
