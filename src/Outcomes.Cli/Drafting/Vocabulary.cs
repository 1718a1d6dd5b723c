using System.Collections.Immutable;
using System.Text.RegularExpressions;
using Outcomes.Measures.Yaml;
using Outcomes.Records;

namespace Outcomes.Cli.Drafting;

/// <summary>What is known of other people's words for fields and values, and how alike two groups of words are.</summary>
public sealed partial class Vocabulary
{
    private static readonly Lazy<Vocabulary> ShippedOnce = new(() => new Vocabulary(FieldDictionary.Shipped));
    private static readonly string[] Fillers = ["of", "the", "and", "or", "for", "was", "is", "on", "to", "pct", "percent"];
    private static readonly string[] Denials = ["not", "no", "none", "without", "never", "un"];

    private readonly List<(string From, string To)> _phrases = [];
    private readonly Dictionary<(string Table, string Field), List<string[]>> _names = [];
    private readonly Dictionary<(string Table, string Field), Dictionary<string, string[]>> _values = [];
    private readonly Dictionary<(string Table, string Field), (double Low, double High)> _typical = [];
    private readonly Dictionary<string, double> _weights = [];
    private readonly ImmutableHashSet<string> _known;

    private Vocabulary(FieldDictionary dictionary)
    {
        using var stream = typeof(Vocabulary).Assembly.GetManifestResourceStream("synonyms.yaml")!;
        using var text = new StreamReader(stream);
        var map = YamlFile.Read(text.ReadToEnd(), "synonyms.yaml").Map("phrases", "fields", "values", "typical");
        foreach (var (word, phrases) in map.Required("phrases").Pairs())
            foreach (var phrase in phrases.Items())
                _phrases.Add((Spaced(phrase.Text()), word));
        _phrases.Sort((left, right) => right.From.Length != left.From.Length
            ? right.From.Length - left.From.Length
            : string.CompareOrdinal(left.From, right.From));
        foreach (var field in dictionary.Fields)
            _names[(field.Table, field.Name)] = [Tokens(field.Name), Tokens(field.Title)];
        foreach (var (field, phrases) in Keyed(map.Required("fields"), dictionary))
            _names[field].AddRange(phrases.Items().Select(phrase => Tokens(phrase.Text())));
        foreach (var (field, values) in Keyed(map.Required("values"), dictionary))
            _values[field] = values.Pairs()
                .ToDictionary(pair => pair.Key, pair => pair.Value.Items().Select(item => item.Text()).ToArray(), StringComparer.Ordinal);
        foreach (var (field, range) in Keyed(map.Required("typical"), dictionary))
            _typical[field] = range.Items().Select(item => (double)item.Number()).ToArray() is [var low, var high]
                ? (low, high)
                : throw range.Wrong("expected two numbers");
        var used = _names.Values.SelectMany(names => names.Select(name => string.Join(' ', name)).Distinct())
            .SelectMany(name => name.Split(' ')).ToList();
        foreach (var group in used.GroupBy(token => token)) _weights[group.Key] = 1 / Math.Log2(2 + group.Count());
        _known = [.. used, .. _phrases.SelectMany(phrase => phrase.From.Split(' ')), .. _values.Values.SelectMany(value => value)
            .SelectMany(pair => pair.Value.SelectMany(Tokens)), .. dictionary.Fields.SelectMany(field => field.Allowed).SelectMany(Tokens)];
    }

    public static Vocabulary Shipped => ShippedOnce.Value;

    /// <summary>Where nearly all values of a field lie, in its own unit; null where nothing is known.</summary>
    public (double Low, double High)? Typical(Field field) => _typical.TryGetValue((field.Table, field.Name), out var range) ? range
        : field.Plausible is { Minimum: { } low, Maximum: { } high } ? ((double)low, (double)high) : null;

    /// <summary>True when every word is one that the dictionary or this list uses: such a text is no name.</summary>
    public bool Knows(string text) => Tokens(text).All(token => _known.Contains(token) || token.Length == 1);

    /// <summary>How well a heading names a field, 0 to 1.</summary>
    public double Likeness(string heading, Field field)
    {
        var tokens = Tokens(Headings.WithoutUnit(heading));
        var raw = Tokens(heading);
        return _names[(field.Table, field.Name)].Max(name => Math.Max(Alike(tokens, name), Alike(raw, name)));
    }

    /// <summary>The allowed value that a word stands for; null when none is clearly it.</summary>
    public string? Value(string word, Field field)
    {
        var allowed = field.Type == FieldType.YesNo ? ["no", "yes"] : field.Allowed;
        if (allowed.FirstOrDefault(value => string.Equals(value, word, StringComparison.OrdinalIgnoreCase)) is { } same) return same;
        var known = _values.GetValueOrDefault(field.Type == FieldType.YesNo ? ("", "yes_no") : (field.Table, field.Name));
        var tokens = Tokens(word);
        if (field.Type == FieldType.YesNo)
            return allowed.FirstOrDefault(value => known![value].Any(other => tokens.SequenceEqual(Tokens(other))));
        if (tokens is ["no"] or ["n"] && allowed.FirstOrDefault(value => value is "no" or "none") is { } nothing) return nothing;
        var own = Tokens(field.Name).Concat(Tokens(field.Title)).ToHashSet();
        var bare = tokens.Where(token => !own.Contains(token)).ToArray();
        var scores = allowed.Select(value =>
        {
            var phrases = (known?.GetValueOrDefault(value) ?? []).Append(value).Select(Tokens).ToList();
            return (Value: value, Score: phrases.Max(phrase => Math.Max(
                SameSense(tokens, phrase) ? Alike(tokens, phrase) : 0,
                bare.Length > 0 && bare.Length < tokens.Length && SameSense(tokens, phrase) ? Alike(bare, phrase) : 0)));
        }).OrderByDescending(pair => pair.Score).ThenBy(pair => pair.Value, StringComparer.Ordinal).ToArray();
        if (scores is not [var best, ..] || best.Score < 0.75) return null;
        return scores.Length == 1 || best.Score - scores[1].Score >= 0.15 || (best.Score > 0.999 && scores[1].Score < 0.95)
            ? best.Value
            : null;
    }

    /// <summary>The words of a text, lower case, groups of words replaced by the word they are read as.</summary>
    public string[] Tokens(string text)
    {
        var spaced = $" {Spaced(text)} ";
        foreach (var (from, to) in _phrases)
            spaced = spaced.Replace($" {from} ", $" {to} ", StringComparison.Ordinal);
        var tokens = spaced.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        var kept = tokens.Where(token => !Fillers.Contains(token)).ToArray();
        return [.. (kept.Length > 0 ? kept : tokens).Select(Singular).Distinct()];
    }

    private static string Spaced(string text) =>
        NotWord().Replace(Camel().Replace(text, " "), " ").Trim().ToLowerInvariant();

    private static string Singular(string token) => token.Length > 4 && token.EndsWith('s')
        && !token.EndsWith("ss", StringComparison.Ordinal) && !token.EndsWith("us", StringComparison.Ordinal) ? token[..^1] : token;

    // The share of the weight of both sides that the other side has too; a rare word weighs more than a common one.
    private double Alike(string[] left, string[] right)
    {
        if (left.Length == 0 || right.Length == 0) return 0;
        double Covered(string[] these, string[] those) => these.Sum(token => Weight(token) * those.Max(other => Same(token, other)));
        return (Covered(left, right) + Covered(right, left)) / (left.Sum(Weight) + right.Sum(Weight));
    }

    private double Weight(string token) => _weights.GetValueOrDefault(token, 1);

    private static double Same(string left, string right)
    {
        if (left == right) return 1;
        var shared = left.Zip(right).TakeWhile(pair => pair.First == pair.Second).Count();
        return shared >= 6 && shared >= Math.Min(left.Length, right.Length) - 2 ? 0.8 : 0;
    }

    // "Not suspected" and "suspected" share most of their letters and nothing of their sense.
    private static bool SameSense(string[] left, string[] right) => left.Any(Denials.Contains) == right.Any(Denials.Contains);

    private static IEnumerable<((string Table, string Field) Key, YamlNode Value)> Keyed(YamlNode node, FieldDictionary dictionary)
    {
        foreach (var (key, value) in node.Pairs())
        {
            var (table, name) = key.StartsWith("attempt.", StringComparison.Ordinal)
                ? (FieldDictionary.Attempt, key["attempt.".Length..])
                : (FieldDictionary.Procedure, key);
            yield return key == "yes_no" ? (("", key), value)
                : dictionary.Find(table, name) is not null ? ((table, name), value) : throw value.Wrong($"`{key}` is no field");
        }
    }

    [GeneratedRegex(@"(?<=[a-z0-9])(?=[A-Z][a-z]{2})")]
    private static partial Regex Camel();

    [GeneratedRegex(@"[^\p{L}\p{Nd}]+")]
    private static partial Regex NotWord();
}
