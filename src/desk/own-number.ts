// "#1042 promised friday 14:00" on job 1042 itself: the number in front only says where it belongs.

/** The text without the job's own number in front. */
export const withoutOwnNumber = (text: string, job: string): string => {
  const found = /^\s*(?:#|job\s+#?)([A-Za-z0-9-]{2,20})[:,]?\s+(?=\S)/iu.exec(text);
  return found?.[1]?.toLowerCase() === job.toLowerCase() ? text.slice(found[0].length) : text;
};
