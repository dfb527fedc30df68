// Command embed shows how another program takes in Whorl: a barn file and an exam of
// today go in, what stands out and the call report come out. It is what an application
// would write, and no more.
//
//	embed -horse juniper barn.json exam.json
//
// The exam must be of that horse. Every fault of either file goes to standard error, with
// its place in the file, and the exit code is 2.
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"slices"

	"whorl.example/baseline"
	"whorl.example/baseline/report"
	"whorl.example/schema"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

func main() {
	horse := flag.String("horse", "", "id of the horse that the exam is of")
	flag.Parse()
	if *horse == "" || flag.NArg() != 2 {
		fmt.Fprintln(os.Stderr, "embed: embed -horse ID barn.json exam.json")
		os.Exit(2)
	}
	if err := run(vitals.ID(*horse), flag.Arg(0), flag.Arg(1), os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(2)
	}
}

func run(horse vitals.ID, barnFile, examFile string, out io.Writer) error {
	barn, err := open(barnFile, schema.Decode)
	if err != nil {
		return err
	}
	today, err := open(examFile, decodeExam)
	if err != nil {
		return err
	}
	i := slices.IndexFunc(barn.Horses, func(h vitals.Horse) bool { return h.ID == horse })
	if i < 0 {
		return fmt.Errorf("%s: no horse %q", barnFile, horse)
	}

	// Learn from every exam that is of this horse. The baseline itself knows which can teach.
	others := func(e vitals.Exam) bool { return e.Horse != horse }
	usual, err := baseline.Of(barn.Horses[i], slices.DeleteFunc(slices.Clone(barn.Exams), others))
	if err != nil {
		return fmt.Errorf("%s:\n%w", barnFile, err)
	}

	// Compare. The error has all that is wrong with the exam.
	c, err := usual.Compare(today)
	if err != nil {
		return fmt.Errorf("%s:\n%w", examFile, err)
	}
	for _, s := range c.Signs {
		if s.Statement.Unusual() {
			fmt.Fprintf(out, "%s is %s; rests on %d exams\n", s.Sign, s.Statement, s.Basis.Exams)
		}
	}
	fmt.Fprintf(out, "%d signs were not checked\n\n", len(c.Unchecked))

	// Tell.
	r := report.Call(report.Input{Horse: barn.Horses[i], Exam: today, Comparison: c}, words.English)
	_, err = io.WriteString(out, r.Text())
	return err
}

// open reads a file and decodes it; its faults come with the file's name.
func open[T any](name string, decode func([]byte) (T, error)) (value T, err error) {
	text, err := os.ReadFile(name)
	if err != nil {
		return value, err
	}
	value, err = decode(text)
	if faults, ok := errors.AsType[vitals.Faults](err); ok {
		return value, fmt.Errorf("%s:\n%w", name, faults)
	}
	return value, err
}

// decodeExam reads one exam, as strictly as a barn file is read.
func decodeExam(text []byte) (e vitals.Exam, err error) {
	err = schema.Unmarshal(text, &e)
	return e, err
}
