// Command herd takes the exams of any number of horses, and holds one of them at a time.
//
//	herd draw HORSES EXAMS          invented records, one exam of a horse a line
//	herd gather [IN...]             one record a line for each horse, with all its exams
//	herd compare [-narrow] [IN...]  each exam beside those of its horse before it: comparisons, one a line
//
// Each IN has a record a line, sorted by horse: of records as this library writes them, LC_ALL=C sort puts them in order. (Those of a newer minor
// format begin with it: they are sorted apart, and given as an IN of their own.) No IN is standard input. What is no record is
// named on standard error, and the exit status says that there was some.
//
//	herd draw 2000 10 | LC_ALL=C sort | herd compare -narrow
package main

import (
	"bufio"
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strconv"

	"whorl.example/examples/herd"
	"whorl.example/schema"
	"whorl.example/vitals"
)

const usage = "usage: herd draw HORSES EXAMS | gather [IN...] | compare [-narrow] [IN...]"

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	err := run(ctx, os.Args[1:], os.Stdin, os.Stdout)
	stop()
	if err != nil {
		fmt.Fprintln(os.Stderr, "herd:", err)
		os.Exit(1)
	}
}

func run(ctx context.Context, args []string, in io.Reader, out io.Writer) error {
	if len(args) == 0 {
		return errors.New(usage)
	}
	flags := flag.NewFlagSet(args[0], flag.ContinueOnError)
	narrow := flags.Bool("narrow", false, "one line for each sign, in few columns")
	if err := flags.Parse(args[1:]); err != nil {
		return err
	}
	to := &lines{w: bufio.NewWriterSize(out, 1<<20)}
	each := to.record
	switch args[0] {
	case "draw":
		return errors.Join(draw(ctx, flags.Args(), to), to.w.Flush())
	case "compare":
		each = func(r schema.Record) error { return to.comparisons(r, *narrow) }
	case "gather":
	default:
		return errors.New(usage)
	}
	streams, closeAll, err := open(flags.Args(), in)
	if err != nil {
		return err
	}
	defer closeAll()
	return errors.Join(eachHorse(ctx, streams, each), to.w.Flush())
}

func draw(ctx context.Context, args []string, to *lines) error {
	if len(args) != 2 {
		return errors.New(usage)
	}
	horses, err := strconv.Atoi(args[0])
	exams, err2 := strconv.Atoi(args[1])
	if err := errors.Join(err, err2); err != nil {
		return err
	}
	for r := range herd.Draw(horses, exams) {
		if err := errors.Join(ctx.Err(), to.record(r)); err != nil {
			return err
		}
	}
	return nil
}

// open opens the files, or takes standard input.
func open(names []string, in io.Reader) (streams []herd.Records, closeAll func(), err error) {
	var files []*os.File
	closeAll = func() {
		for _, f := range files {
			f.Close()
		}
	}
	if len(names) == 0 {
		return []herd.Records{named("standard input", in)}, closeAll, nil
	}
	for _, name := range names {
		f, err := os.Open(name)
		if err != nil {
			closeAll()
			return nil, nil, err
		}
		files = append(files, f)
		streams = append(streams, named(name, f))
	}
	return streams, closeAll, nil
}

// named gives the records of a file, with its name before what is wrong with them.
func named(name string, in io.Reader) herd.Records {
	return func(yield func(schema.Record, error) bool) {
		for r, err := range schema.Records(bufio.NewReaderSize(in, 1<<20)) {
			if err != nil {
				err = fmt.Errorf("%s: %w", name, err)
			}
			if !yield(r, err) {
				return
			}
		}
	}
}

// eachHorse calls a function with each horse's record. What is no record is named, and does not end it.
func eachHorse(ctx context.Context, streams []herd.Records, each func(schema.Record) error) error {
	refused := 0
	for r, err := range herd.Gather(ctx, streams...) {
		if err == nil {
			err = each(r)
		}
		if err == nil {
			continue
		}
		if _, faulty := errors.AsType[vitals.Faults](err); !faulty {
			return err
		}
		refused++
		fmt.Fprintln(os.Stderr, "herd:", err)
	}
	if refused > 0 {
		return fmt.Errorf("%d refused", refused)
	}
	return nil
}

// lines writes JSON, one a line.
type lines struct{ w *bufio.Writer }

func (to *lines) put(v any) error {
	text, err := schema.Marshal(v)
	if err == nil {
		_, err = to.w.Write(append(text, '\n'))
	}
	return err
}

func (to *lines) record(r schema.Record) error {
	text, err := schema.EncodeRecord(r)
	if err == nil {
		_, err = to.w.Write(text)
	}
	return err
}

func (to *lines) comparisons(r schema.Record, narrow bool) error {
	for c, err := range herd.Compare(r) {
		if err != nil {
			return err
		}
		if !narrow {
			if err := to.put(c); err != nil {
				return err
			}
			continue
		}
		for _, row := range herd.Narrow(c) {
			if err := to.put(row); err != nil {
				return err
			}
		}
	}
	return nil
}
