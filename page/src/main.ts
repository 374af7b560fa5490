import { mount } from "svelte";
import App from "./App.svelte";
import "./look.css";
import { learn } from "./words";

const target = document.getElementById("page");
if (target) {
  await learn();
  mount(App, { target });
}
