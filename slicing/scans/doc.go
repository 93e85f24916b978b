// Package scans makes one piece of several scan files: reads them, cuts away what is not to be used, brings them together and joins
// them, and says in sentences what keeps it from doing so.
package scans
