// Two tabs of one browser on the same plan find each other and say so, once
// each. Nothing depends on it: what one tab stores reaches the other through
// the server.

/** What tabs say to each other: that one has opened, and that another is there already. */
type Word = "opened" | "here";

/** As much of a BroadcastChannel as is needed. */
export interface Channel {
  postMessage(word: Word): void;
  addEventListener(type: "message", fn: (e: { data: Word }) => void): void;
}

export const otherTabSentence = "This plan is open in another tab; both follow each other.";

/** Calls tell, once, when the plan is open in another tab of this browser. */
export function meetOtherTabs(
  planID: string,
  tell: (sentence: string) => void,
  open: (name: string) => Channel = (name) => new BroadcastChannel(name),
): void {
  const channel = open(`evenfall-plan ${planID}`);
  let told = false;
  channel.addEventListener("message", ({ data }) => {
    if (data === "opened") channel.postMessage("here");
    if (!told) tell(otherTabSentence);
    told = true;
  });
  channel.postMessage("opened");
}
