// Package shrink makes a WebAssembly module that the go command built smaller once it is packed
// by gzip. The module computes the same.
//
// It does five things that the tools of Go leave open:
//
//   - memory: the data that the memory begins with is written in long runs. The linker leaves out
//     each eight zeros, and what tells where the next run begins packs worse than the zeros do.
//   - code: a branch goes where it is to go. The compiler sends each by the number of its target to
//     the head of the function, and leaves a function whose goroutine stops by a branch whose depth
//     differs from call to call; an address is added up where an instruction has room for a sum.
//   - tables: the names, files, lines and arguments of functions go. They say where a program was when it
//     died, in the trace of a panic that nobody recovers. So do the places where a signal may stop it,
//     for there are no signals.
//   - index: the tables that find a function by its address follow from how many functions there
//     are, and what a function names of the tables of steps follows what the one before it named. A function
//     that runs before all others writes them.
//   - elements: the numbers of the functions that are called by address are written in five bytes each, of
//     which four hardly ever differ from one to the next.
//
// What it takes for granted is how Go 1.20 to 1.26 lay out these tables, and how they translate
// jumps and calls. It looks whether that is so: a module that is laid out otherwise is an error,
// and code of another form stays as it is.
package shrink
