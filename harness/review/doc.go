// Package review turns results into what people read: the bundle with its page,
// the terminal's table, and reports for CI. It knows results only: no plan, no
// font, no golden. Names come from untrusted files and are escaped everywhere.
package review
