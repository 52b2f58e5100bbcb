//go:build browser

package walk

// auditOffered opens the bench of audits and has cans offered for its first area.
func (p *tab) auditOffered() {
	p.t.Helper()
	p.command("proof.audit")
	p.button("#audit", "Offer cans")
	p.until(`document.querySelector("#audit .cans-offer").checkVisibility()`)
	eval[bool](p, `(document.querySelector("#audit .cans-offer details").open = true)`)
	p.frame()
}

// auditRead takes the cans that are offered, fills in how they were made, and catches: less
// in every third can. It ends when the server has told what they come to.
func (p *tab) auditRead() {
	p.t.Helper()
	p.button("#audit", "Take these")
	p.until(`document.querySelectorAll("#audit .can-table tbody tr").length > 10`)
	p.settled()
	eval[bool](p, `(async () => {
		const id = evenfall.board.layers.audit;
		const audit = evenfall.state.plan.proof.audits[id];
		await evenfall.board.commit("Say what the cans are", { ...evenfall.state.plan, proof: { audits: { [id]: { ...audit, throat_in2: 16 } } } });
		document.querySelectorAll("#audit details").forEach((d) => { d.open = true; });
		const first = document.querySelector("#audit .can-table tbody input");
		first.focus();
		const column = new DataTransfer();
		column.setData("text/plain", Object.keys(audit.cans).map((_, i) => i % 3 === 0 ? "14.5" : "26").join("\n"));
		first.dispatchEvent(new ClipboardEvent("paste", { clipboardData: column, bubbles: true, cancelable: true }));
		return true;
	})()`)
	p.until(`document.querySelectorAll("#audit .audit-figures tbody tr").length > 3`)
	p.settled()
}
