// The oldest browsers in which every page works in full; an older one gets the pages as they are without script.
export const FLOOR = ["chrome 100", "firefox 115", "ios_saf 15.4", "safari 15.4"];
