;; Emacs, set up as its page says: the diagnostics of the open file, before and after an edit, as lines on the standard output.
(require 'flymake)
(setq eglot-sync-connect 20 eglot-send-changes-idle-time 0.05 flymake-no-changes-timeout 0.05)

(defun thou-said ()
  (mapconcat
   (lambda (one)
     (format "%s %d-%d" (flymake-diagnostic-text one) (flymake-diagnostic-beg one) (flymake-diagnostic-end one)))
   (seq-filter (lambda (one) (string-match-p "is not a unit" (flymake-diagnostic-text one))) (flymake-diagnostics))
   ", "))

(defun thou-wait (is-it)
  (let ((until (+ (float-time) 20)))
    (while (and (not (funcall is-it)) (< (float-time) until))
      (accept-process-output nil 0.05)
      (flymake-start))
    (funcall is-it)))

(find-file (getenv "THOU_FILE"))
;; no window stands by to do what waits for the next command
(run-hooks 'post-command-hook)
(flymake-mode 1)
(princ (format "first: %s\n" (if (thou-wait (lambda () (not (string= (thou-said) "")))) (thou-said) "nothing came")))
(goto-char (point-min))
(search-forward "inn")
(delete-char -1)
(run-hooks 'post-command-hook)
(eglot--signal-textDocument/didChange)
(princ (format "mended: %s\n" (if (thou-wait (lambda () (string= (thou-said) ""))) "clean" (thou-said))))
(set-buffer-modified-p nil)
(let ((kill-emacs-hook nil)) (kill-emacs 0))
