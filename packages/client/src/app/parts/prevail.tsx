/** The quiet line beside every number that could be taken for a ruling. */
import { words } from "../words.ts";

export const Prevail = () => <p class="quiet small prevail">{words.prevail}</p>;
