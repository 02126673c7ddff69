// Package lesson holds eight lessons about tolerance stacking: what each asks, what moves in it,
// what the library answers, and two exercises whose numbers come from a seed.
//
// [All] has the lessons in their order. A [Lesson] shows itself for where its controls stand
// ([Lesson.At]), sets exercises for a seed ([Lesson.Exercises]) and judges what a student typed
// ([Exercise.Judge]). [Questions] are the same as questions of package ask, so that a page puts
// them to the module, and [Lesson.Write] writes a page that reads without it. LESSONS.md says
// what each lesson is for and which mistakes its exercises know.
//
// An answer is right if what was typed lies inside what is allowed, which the library works out.
// A wrong one is compared with the answers that usual mistakes lead to, worked out from the same
// numbers, and gets that mistake's reason.
//
// Texts that stand still hold no number: what can be computed is computed. The engine is invented.
package lesson
