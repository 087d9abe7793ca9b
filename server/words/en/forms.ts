const NUMBERS = ['No', 'One', 'Two', 'Three', 'Four', 'Five', 'Six', 'Seven', 'Eight', 'Nine'];

/** Heading of an error summary: "Two things to put right". */
export function summaryTitle(count: number): string {
  return `${NUMBERS[count] ?? count} ${count === 1 ? 'thing' : 'things'} to put right`;
}
