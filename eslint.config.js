import tseslint from 'typescript-eslint';

const screenText = [
  { selector: 'JSXText[value=/[A-Za-z]/]', message: 'Text on screen lives in _locales: use t().' },
  {
    selector: 'JSXAttribute[name.name=/^(title|aria-label|aria-description|placeholder|alt)$/] > Literal',
    message: 'Text on screen lives in _locales: use t().',
  },
  ...[
    'JSXElement > JSXExpressionContainer > Literal',
    'JSXElement > JSXExpressionContainer > ConditionalExpression > Literal',
    'JSXElement > JSXExpressionContainer > LogicalExpression > Literal.right',
  ].map((place) => ({
    selector: `${place}[value=/[A-Za-z]/]`,
    message: 'Text on screen lives in _locales: use t().',
  })),
];
const oneWritePath = {
  selector: "CallExpression[callee.property.name='transaction'] > Literal[value='readwrite']",
  message: 'Writing goes through the one strict write path, store/write.ts.',
};
const impure = [
  { object: 'Date', property: 'now', message: 'Time is an argument in core.' },
  { object: 'Math', property: 'random', message: 'Randomness is an argument in core.' },
];

export default tseslint.config(
  {
    ignores: [
      'dist',
      'packages',
      'screenshots',
      '.profiles',
      'node_modules',
      '.dependency-cruiser.cjs',
      'src/core/find/kernels/assembly',
    ],
  },
  {
    files: ['**/*.{ts,tsx}'],
    extends: [tseslint.configs.strictTypeChecked],
    languageOptions: { parserOptions: { projectService: true, tsconfigRootDir: import.meta.dirname } },
    rules: {
      '@typescript-eslint/restrict-template-expressions': ['error', { allowNumber: true }],
      '@typescript-eslint/no-confusing-void-expression': ['error', { ignoreArrowShorthand: true }],
      '@typescript-eslint/no-non-null-assertion': 'off',
      // Taking a key out of an object is the reason to name it.
      '@typescript-eslint/no-unused-vars': ['error', { ignoreRestSiblings: true }],
      'no-restricted-syntax': ['error', ...screenText, oneWritePath],
      'max-lines': ['error', { max: 400, skipBlankLines: true, skipComments: true }],
    },
  },
  { files: ['src/store/write.ts'], rules: { 'no-restricted-syntax': ['error', ...screenText] } },
  {
    files: ['src/core/**/*.ts'],
    rules: {
      'no-restricted-properties': ['error', ...impure],
      'no-restricted-syntax': [
        'error',
        {
          selector: "NewExpression[callee.name='Date'][arguments.length=0]",
          message: 'Time is an argument in core.',
        },
      ],
    },
  },
  {
    files: ['tests/**/*.ts'],
    rules: {
      'max-lines': 'off',
      '@typescript-eslint/no-unsafe-assignment': 'off',
      '@typescript-eslint/no-unsafe-member-access': 'off',
      '@typescript-eslint/no-unsafe-call': 'off',
      '@typescript-eslint/no-unsafe-argument': 'off',
      '@typescript-eslint/no-unsafe-return': 'off',
      '@typescript-eslint/no-explicit-any': 'off',
    },
  },
);
