/** The number of the user and of the group that own nothing, on Linux. */
export const nobody = 65534;
