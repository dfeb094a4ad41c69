// As little as a page with one box can be: what the preview's time is held against.
import { BoxGeometry, DirectionalLight, Mesh, MeshLambertMaterial, PerspectiveCamera, Scene, WebGLRenderer } from "three";

const renderer = new WebGLRenderer({ antialias: true });
renderer.setPixelRatio(window.devicePixelRatio);
renderer.setSize(window.innerWidth, window.innerHeight);
document.body.append(renderer.domElement);
const scene = new Scene();
const camera = new PerspectiveCamera(26, window.innerWidth / window.innerHeight, 0.1, 100);
camera.position.set(0, 0, 5);
scene.add(new Mesh(new BoxGeometry(1, 1, 1), new MeshLambertMaterial()), new DirectionalLight());
renderer.render(scene, camera);
performance.mark("shown");
performance.mark("whole");
Object.assign(window, { wallPage: true });
