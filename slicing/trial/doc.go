// Package trial compares settings with one another: a list of trials that have names, what each comes to (Ticket), and by how
// much two of them differ (Ticket.Against). A Trier works tickets out one after another and keeps what it made of the scan.
package trial
