// Package conform asks a program what closefit knows, and says what the program gets wrong.
//
// A [Vector] is one question with its exact answer, the source of that answer or its derivation,
// and the harm that a wrong answer does to an engine. [Vectors] returns all of them. [Run] starts a
// program, puts questions to it and compares its answers; its [Report] counts them by topic.
// [Answer] answers with the library, so that the library is asked like any other program.
//
// Published answers come from the rows of evidence. The others are worked out by the tests of this
// package in a second way, with whole numbers and fractions or by brute force, and never by the
// library alone. The tests write the vectors, and fail if they are out of date.
//
// The page examples/conformance/QUESTIONS.md says what each question holds.
package conform
