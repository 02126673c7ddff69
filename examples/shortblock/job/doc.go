// Package job reads the job of closing a short block from one file and assesses
// it: every reading judged against its limits, a shell for every half and the
// cheapest way to buy them, the tightening laid out step by step, and what to do
// next, worst first.
//
// The file is TOML, its quantities texts with units. It is read strictly: what
// cannot be understood is an error with its line, never a guess. A reading that
// was not taken is left out, and is then not proven.
//
//	j, err := job.Read("engine.toml", src)
//	a, err := j.Assess(ctx)
//	err = record.Write(os.Stdout, record.Text, a)
//
// The demonstration jobs in Demonstrations show every key that a file may have.
package job
