export default function Start() {
  return (
    <main>
      <h1>Yokemate</h1>
      <p>A crew’s shared job card, torque record and lift plan.</p>
    </main>
  );
}
