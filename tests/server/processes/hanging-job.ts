/** Never comes back. */
export default function run(): never {
  for (;;);
}
