import tseslint from 'typescript-eslint';

const noDefaultExports = {
  selector: 'ExportDefaultDeclaration',
  message: 'Name what you export; only tool configuration files have a default export.',
};

export default tseslint.config(
  { ignores: ['dist', 'coverage', 'out', 'node_modules'] },
  ...tseslint.configs.strictTypeChecked,
  {
    languageOptions: { parserOptions: { projectService: true } },
    rules: {
      curly: ['error', 'multi-line'],
      eqeqeq: 'error',
      'max-lines': ['error', { max: 400, skipBlankLines: false, skipComments: false }],
      'max-params': ['error', { max: 4 }],
      'max-lines-per-function': ['error', { max: 60, skipBlankLines: true, skipComments: true }],
      'no-console': 'error',
      'no-restricted-syntax': ['error', noDefaultExports],
      '@typescript-eslint/switch-exhaustiveness-check': 'error',
      '@typescript-eslint/explicit-module-boundary-types': 'error',
      '@typescript-eslint/restrict-template-expressions': ['error', { allowNumber: true, allowBoolean: true }],
      '@typescript-eslint/no-non-null-assertion': 'error',
    },
  },
  {
    files: ['tests/**', 'fixtures/**'],
    rules: { 'max-lines': 'off', 'max-lines-per-function': 'off' },
  },
  {
    files: ['*.config.{js,ts,cjs}', '.dependency-cruiser.cjs', '**/*.mjs'],
    extends: [tseslint.configs.disableTypeChecked],
    rules: { 'no-restricted-syntax': 'off', '@typescript-eslint/explicit-module-boundary-types': 'off' },
  },
);
