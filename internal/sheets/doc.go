// Package sheets writes what a design says as lists people can keep: tables as
// CSV and XLSX, and the report as plain text. It reads results and writes to
// the io.Writer it is given; it computes nothing about water.
//
// Every table is first a Table, so that the page, the CSV and the workbook show
// the same cells.
package sheets
