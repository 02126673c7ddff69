package job

// A Said is something that a job says of itself in a text: which engine it is, and who builds it.
type Said struct {
	Name string   // "engine"
	What string   // what belongs there
	Text string   // as the file has it; "?" while it is open
	Keys []string // in the file, as tomlfile.SetText takes them
}

// About is what a job says of itself.
func (j *Job) About() []Said {
	said := func(name, text, what string, keys ...string) Said { return Said{name, what, or(text, open), keys} }
	return []Said{
		said("title", j.title, "what this job is called", "title"),
		said("engine", j.identity.Engine, "which one it is, among others of its kind: the ledger of its bolts needs it", "engine", "name"),
		said("build", j.identity.Build, "which of its builds: the ledger of its bolts needs it", "build"),
		said("by", j.by, "who builds it", "by"),
		said("date", j.date, "when", "date"),
	}
}
