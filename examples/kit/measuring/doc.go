// Package measuring writes the measuring sheet of a job, to take to the engine: what is
// still to be measured, by part, with the limits, the instrument that is good enough, the
// conditions, a picture of where to measure, and room to write.
package measuring
