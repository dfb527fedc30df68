// Command beam is examples/herd on Apache Beam: the same two steps, with what an engine does by itself (grouping by horse, workers,
// checkpoints, other machines). It reads and writes Parquet.
//
//	beam -in 'exams-*.parquet' -out DIR       compares: DIR has the rows of herd.Narrow in Parquet, and what was refused as text
//	beam -in 'exams-*.jsonl' -out DIR         the same from records, one a line
//	     -parts N                             in so many files, 8
//	     -lines                               every comparison whole too, as text: a hundred times as much
//	     -runner prism|direct|universal       and the other flags of Beam; universal hands the work to a job server, of Flink or Spark
//	beam -pack FILE <records                  writes records, one a line, as Parquet
//	beam -print FILE...                       writes such rows as JSON, one a line, as herd compare -narrow does
//
// Another runner and another store of files are an import each.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"
	_ "github.com/apache/beam/sdks/v2/go/pkg/beam/io/filesystem/local"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/runners"
	_ "github.com/apache/beam/sdks/v2/go/pkg/beam/runners/direct"
	_ "github.com/apache/beam/sdks/v2/go/pkg/beam/runners/prism"
	_ "github.com/apache/beam/sdks/v2/go/pkg/beam/runners/universal"

	"whorl.example/schema"
)

func main() {
	in := flag.String("in", "", "records, a pattern of names: .jsonl or .parquet")
	out := flag.String("out", "", "folder for what comes of them")
	parts := flag.Int("parts", 8, "number of files")
	lines := flag.Bool("lines", false, "comparisons whole too")
	pack := flag.String("pack", "", "Parquet file to make of standard input")
	show := flag.Bool("print", false, "print the rows of the files named")
	flag.Parse()
	beam.Init()
	if *runners.Runner == "" {
		*runners.Runner = "prism"
	}
	if err := run(job{*in, *out, *parts, *lines}, *pack, *show, flag.Args()); err != nil {
		fmt.Fprintln(os.Stderr, "beam:", err)
		os.Exit(1)
	}
}

func run(j job, pack string, show bool, names []string) error {
	switch {
	case pack != "":
		f, err := os.Create(pack)
		if err != nil {
			return err
		}
		return errors.Join(packed(os.Stdin, f), f.Close())
	case show:
		for _, name := range names {
			if err := printed(os.Stdout, name); err != nil {
				return fmt.Errorf("%s: %w", name, err)
			}
		}
		return nil
	case j.in == "" || j.out == "":
		return errors.New("-in and -out are needed")
	}
	p, s := beam.NewPipelineWithRoot()
	j.build(s)
	_, err := beam.Run(context.Background(), *runners.Runner, p)
	return err
}

// packed writes records, one a line, as the Parquet that the pipeline reads.
func packed(in io.Reader, out io.Writer) error {
	w, err := newWriter[exam](out)
	if err != nil {
		return err
	}
	for r, err := range schema.Records(in) {
		if err != nil {
			return err
		}
		text, err := schema.EncodeRecord(r)
		if err == nil {
			err = w.Write(exam{string(r.Horse.ID), string(text)})
		}
		if err != nil {
			return err
		}
	}
	return w.WriteStop()
}
