/** Buttons, and links that look like them: a link goes somewhere, a button does something. */
import type { ComponentChildren, JSX, TargetedKeyboardEvent } from "preact";

export type ButtonLook = "main" | "plain" | "quiet" | "danger";

const classes: Readonly<Record<ButtonLook, string>> = {
  main: "button main",
  plain: "button",
  quiet: "button quiet-button",
  danger: "button danger",
};

type ButtonProps = Omit<JSX.IntrinsicElements["button"], "class" | "className"> & { readonly look?: ButtonLook };

export const Button = ({ look = "plain", type = "button", ...rest }: ButtonProps) => (
  <button onKeyDown={pressOnce} {...rest} type={type} class={classes[look]} />
);

/** A key that is held presses once: where the focus goes on to another button, the same finger would press that too. */
function pressOnce(event: TargetedKeyboardEvent<HTMLButtonElement>): void {
  if (event.repeat && event.key === "Enter") event.preventDefault();
}

export interface ButtonLinkProps {
  readonly href: string;
  readonly look?: ButtonLook;
  readonly children: ComponentChildren;
}

export const ButtonLink = ({ href, look = "plain", children }: ButtonLinkProps) => (
  <a href={href} class={classes[look]}>
    {children}
  </a>
);
