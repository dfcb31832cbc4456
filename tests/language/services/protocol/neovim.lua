-- Neovim, set up as its page says: the diagnostics of the open file, before and after an edit, as lines on the standard output.
vim.cmd('edit ' .. vim.env.THOU_FILE)
local buffer = vim.api.nvim_get_current_buf()

local function said()
  local lines = {}
  for _, one in ipairs(vim.diagnostic.get(buffer)) do
    if one.code ~= 'missing' then
      table.insert(lines, string.format('%s %d:%d-%d', one.code, one.lnum, one.col, one.end_col))
    end
  end
  return table.concat(lines, ', ')
end

local first = vim.wait(20000, function() return said() ~= '' end, 20)
io.stdout:write('first: ' .. (first and said() or 'nothing came') .. '\n')
-- the line behind the signs is mended: columns must be counted alike on both sides
local line = vim.api.nvim_buf_get_lines(buffer, 3, 4, false)[1]
vim.api.nvim_buf_set_lines(buffer, 3, 4, false, { (line:gsub('inn', 'in')) })
local mended = vim.wait(20000, function() return said() == '' end, 20)
io.stdout:write('mended: ' .. (mended and 'clean' or said()) .. '\n')
vim.cmd('qall!')
