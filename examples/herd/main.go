package main

import (
	"bufio"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
)

func main() {
	fits := flag.String("fits", "", "kept fits, to compare with, or to write with -reduce")
	state := flag.String("state", "", "file in which the place reached is kept")
	out := flag.String("o", "", "file for the comparisons; standard output if not given")
	reduce := flag.Bool("reduce", false, "take the exams of every file into one history for each horse")
	flag.Parse()
	var err error
	switch {
	case *reduce:
		err = reduceFiles(*fits, flag.Args())
	case flag.NArg() == 1 && (*state == "") == (*out == ""):
		err = compareFile(*fits, flag.Arg(0), *out, *state)
	default:
		err = errors.New("usage: herd [-state FILE -o OUT] IN, or herd -reduce IN [IN]")
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "herd:", err)
		os.Exit(1)
	}
}

func reduceFiles(fits string, names []string) error {
	var streams []io.Reader
	for _, name := range names {
		f, err := os.Open(name)
		if err != nil {
			return err
		}
		defer f.Close()
		streams = append(streams, f)
	}
	herd, err := Gather(streams...)
	if err != nil {
		return err
	}
	out := bufio.NewWriter(os.Stdout)
	if err := errors.Join(herd.Write(out), out.Flush()); err != nil || fits == "" {
		return err
	}
	f, err := os.Create(fits)
	if err != nil {
		return err
	}
	kept := bufio.NewWriter(f)
	return errors.Join(herd.WriteFits(kept), kept.Flush(), f.Close())
}

func compareFile(fits, in, out, state string) error {
	answer := Answer
	if fits != "" {
		f, err := os.Open(fits)
		if err != nil {
			return err
		}
		defer f.Close()
		shelf, err := NewShelf(f)
		if err != nil {
			return err
		}
		answer = shelf.Answer
	}
	from, err := os.Open(in)
	if err != nil {
		return err
	}
	defer from.Close()
	if out == "" {
		return Compare(from, os.Stdout, answer, func(int64, int64) error { return nil })
	}
	return Resume(from, out, state, answer, nil)
}

// Resume compares from the place that the state file names, which none means the
// beginning. What stands in out beyond that place is of a batch that was not finished,
// and is written anew. each, if not nil, is called after each batch, for the tests.
func Resume(in io.ReadSeeker, out, state string, answer func(line []byte) []byte, each func() error) error {
	var read, written int64
	text, err := os.ReadFile(state)
	if err == nil {
		_, err = fmt.Sscanf(string(text), "%d %d\n", &read, &written)
	} else if errors.Is(err, fs.ErrNotExist) {
		err = nil
	}
	if err != nil {
		return fmt.Errorf("%s: %w", state, err)
	}
	to, err := os.OpenFile(out, os.O_CREATE|os.O_RDWR, 0o644)
	if err != nil {
		return err
	}
	defer to.Close()
	if info, err := to.Stat(); err != nil || info.Size() < written {
		return fmt.Errorf("%s is shorter than %s says", out, state)
	}
	if err := to.Truncate(written); err != nil {
		return err
	}
	for f, place := range map[io.Seeker]int64{to: written, in: read} {
		if _, err := f.Seek(place, io.SeekStart); err != nil {
			return err
		}
	}
	return Compare(in, to, answer, func(r, w int64) error {
		if err := keep(to, state, read+r, written+w); err != nil {
			return err
		}
		if each != nil {
			return each()
		}
		return nil
	})
}

// keep writes the place down once the answers before it are on the disk, in a file beside
// the old one that then takes its name, so that a kill leaves one of the two whole.
func keep(out *os.File, state string, read, written int64) error {
	if err := out.Sync(); err != nil {
		return err
	}
	next := state + ".next"
	if err := os.WriteFile(next, fmt.Appendf(nil, "%d %d\n", read, written), 0o644); err != nil {
		return err
	}
	return os.Rename(next, state)
}
