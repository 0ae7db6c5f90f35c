// Signs that stand for done and for not done.

export const CROSS = /^[❌✖🚫]/u;

export const TICKS = /^[✅✔☑👍👌💪🎉🙌🆗🏁]/u;
