using System.Globalization;
using System.Text;

namespace Outcomes.Cli.Drafting;

/// <summary>A question to the person who finishes a draft.</summary>
/// <param name="Number">Its number, through all files of a draft.</param>
/// <param name="File">The file it stands in.</param>
/// <param name="Line">Its line there.</param>
/// <param name="Text">The question.</param>
public sealed record Question(int Number, string File, int Line, string Text);

/// <summary>The lines of one drafted file, and the questions in it.</summary>
public sealed class DraftText(string file, List<Question> questions)
{
    private readonly List<string> _lines = [];

    public string File => file;

    public void Line(string text) => _lines.Add(text);

    /// <summary>A question as a comment, with lines that answer it once their # is removed.</summary>
    public void Ask(string indent, string text, params string[] answers)
    {
        var question = new Question(questions.Count + 1, file, _lines.Count + 1, text);
        questions.Add(question);
        _lines.Add(string.Create(CultureInfo.InvariantCulture, $"{indent}# QUESTION {question.Number}: {text}"));
        foreach (var answer in answers) _lines.Add($"{indent}# {answer}");
    }

    public override string ToString() => string.Join('\n', _lines) + "\n";

    /// <summary>A text as YAML reads it back, whatever is in it.</summary>
    public static string Quoted(string text)
    {
        var quoted = new StringBuilder("\"");
        foreach (var c in text)
            quoted.Append(c switch
            {
                '"' => "\\\"",
                '\\' => "\\\\",
                < ' ' or '\u007F' => string.Create(CultureInfo.InvariantCulture, $"\\x{(int)c:X2}"),
                _ => c.ToString(),
            });
        return quoted.Append('"').ToString();
    }
}
