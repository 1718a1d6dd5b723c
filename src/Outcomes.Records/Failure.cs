namespace Outcomes.Records;

/// <summary>The exit codes of the command line: a stable contract.</summary>
public enum ExitCode
{
    Done = 0,

    /// <summary>An internal error.</summary>
    Bug = 1,

    /// <summary>The command line is wrong.</summary>
    Usage = 2,

    /// <summary>A definition is wrong or its file is missing.</summary>
    Definition = 3,

    /// <summary>Input is missing, unreadable, identifying, or too much of it is quarantined.</summary>
    Input = 4,

    /// <summary>Output could not be written.</summary>
    Output = 5,

    Interrupted = 130,
}

/// <summary>
/// A stop that a person can do something about: one sentence that says what, where, and what to do.
/// A bad cell is a <see cref="Finding"/>, not a failure; a broken invariant is an ordinary exception.
/// </summary>
public sealed class Failure : Exception
{
    public Failure(ExitCode code, string message, string? file = null, int line = 0, string rule = "")
        : base(file is null ? message : line > 0 ? $"{file}:{line}: {message}" : $"{file}: {message}")
    {
        Code = code;
        Reason = message;
        Rule = rule;
        File = file;
        Line = line;
    }

    public ExitCode Code { get; }

    /// <summary>The message without its place.</summary>
    public string Reason { get; }

    /// <summary>The rule by which a whole file is refused; empty where none is.</summary>
    public string Rule { get; }

    /// <summary>The file at fault, when there is one.</summary>
    public string? File { get; }

    /// <summary>Its line, 1-based; 0 when the whole file is at fault.</summary>
    public int Line { get; }

    /// <summary>A definition that is wrong, at its place.</summary>
    public static Failure Definition(string file, int line, string message) => new(ExitCode.Definition, message, file, line);
}
