namespace Outcomes.Records;

/// <summary>The last resort for a name or value that no definition gives a title.</summary>
public static class Readable
{
    /// <summary>Underscores become spaces and the first letter a capital: <c>senior_trainee</c> is <c>Senior trainee</c>.</summary>
    public static string Words(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        var words = name.Replace('_', ' ');
        return words.Length > 0 && char.IsAsciiLetterLower(words[0]) ? char.ToUpperInvariant(words[0]) + words[1..] : words;
    }

    /// <summary>A title within a sentence: its first letter small, unless its first word is an abbreviation, as in <c>SpO2</c>.</summary>
    public static string WithinSentence(string title)
    {
        ArgumentNullException.ThrowIfNull(title);
        return title.Length > 1 && title.Split(' ')[0].Skip(1).All(letter => !char.IsUpper(letter) && !char.IsDigit(letter))
            ? char.ToLowerInvariant(title[0]) + title[1..]
            : title;
    }
}
