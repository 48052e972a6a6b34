/** Passing a link on by what this phone can do. */

/** `by_hand`: neither sharing nor a clipboard, as on plain HTTP; the link is shown to be marked and copied. */
export type Passed = "shared" | "left" | "copied" | "by_hand";

interface Phone {
  share?: ((what: { title: string; url: string }) => Promise<void>) | undefined;
  clipboard?: { writeText: (text: string) => Promise<void> } | undefined;
}

export async function pass(link: string, title: string, phone: Phone): Promise<Passed> {
  if (phone.share) {
    try {
      await phone.share({ title, url: link });
      return "shared";
    } catch (why) {
      if (why instanceof Error && why.name === "AbortError") return "left"; // they closed it again
    }
  }
  try {
    if (!phone.clipboard) return "by_hand";
    await phone.clipboard.writeText(link);
    return "copied";
  } catch {
    return "by_hand"; // the browser would not let it
  }
}
