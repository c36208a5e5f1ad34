declare module '*.spring' {
  const text: string;
  export default text;
}
