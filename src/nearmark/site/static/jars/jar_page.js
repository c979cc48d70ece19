/* The practice page: its jar on its stage. */
import { find } from "../shared/dom.js";
import { openStage } from "./jar_stage.js";

const stage = find("#jar-stage");
if (stage) openStage(stage);
