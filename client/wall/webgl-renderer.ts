import 'pixi.js/unsafe-eval';
import 'pixi.js/graphics';
import { WebGLRenderer } from 'pixi.js';

export const newRenderer = (): WebGLRenderer => new WebGLRenderer();
