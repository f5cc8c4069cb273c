/** What was refused: what, why, and what to do. */
import type { Message } from "../../messages.ts";
import { Notice } from "./notice.tsx";

export const Refused = ({ message }: { readonly message: Message | null }) =>
  message === null ? null : (
    <Notice tone="bad" title={message.what} live>
      <p>
        {message.why} {message.todo}
      </p>
    </Notice>
  );
