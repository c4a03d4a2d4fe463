import type { JSX } from 'preact';
import { Modal } from './modal.tsx';
import type { Questions } from './questions.ts';

export function QuestionDialog({ questions }: { questions: Questions }): JSX.Element | null {
  const question = questions.open.value;
  if (!question) return null;
  return (
    <Modal title={question.title} onLeave={() => questions.answer(false)}>
      <p>{question.body}</p>
      <div class="choices">
        <button type="button" data-answer="no" onClick={() => questions.answer(false)}>
          {question.no}
        </button>
        <button type="button" class="strong" data-answer="yes" onClick={() => questions.answer(true)}>
          {question.yes}
        </button>
      </div>
    </Modal>
  );
}
