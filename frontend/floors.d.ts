export const FLOORS: string[];
