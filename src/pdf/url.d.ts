/** The bundler's address of a file that is packed beside the code. */
declare module '*?url' {
  const address: string;
  export default address;
}
