/** Everything went well and every requirement is met. */
export const ok = 0;

/** A requirement is missed or a file has errors. */
export const failed = 1;

/** The command line is wrong, or the program is. */
export const usageError = 2;
