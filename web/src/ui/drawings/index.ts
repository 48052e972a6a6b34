export * from "./BoltPattern";
export * from "./DayStrip";
export { Drawing, type DrawingProps, useWidth } from "./Drawing";
export * from "./FinishRange";
export * from "./LiftFromAbove";
export * from "./Pictogram";
export * from "./StageWire";
