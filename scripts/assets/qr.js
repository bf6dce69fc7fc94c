// What the card needs of the package: codes drawn, and codes read.
export { encodeQR } from "qr";
export { decodeQR } from "qr/decode.js";
