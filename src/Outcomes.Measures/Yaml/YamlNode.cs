using System.Globalization;
using Outcomes.Records;
using YamlDotNet.RepresentationModel;

namespace Outcomes.Measures.Yaml;

/// <summary>A node of a definition file that knows its place, so that every complaint names file and line.</summary>
public sealed class YamlNode
{
    private readonly YamlDotNet.RepresentationModel.YamlNode _node;

    internal YamlNode(YamlDotNet.RepresentationModel.YamlNode node, string file)
    {
        _node = node;
        File = file;
    }

    public string File { get; }

    public int Line => (int)_node.Start.Line;

    /// <summary>Where it starts in the file's text, in characters.</summary>
    public int Start => (int)_node.Start.Index;

    /// <summary>Where the last single value in it ends in the file's text; the start of one that holds none.</summary>
    public int LastEnd => _node switch
    {
        YamlMappingNode { Children.Count: > 0 } => Pairs().Last().Value.LastEnd,
        YamlSequenceNode { Children.Count: > 0 } => Items().Last().LastEnd,
        YamlScalarNode => (int)_node.End.Index,
        _ => Start,
    };

    public bool IsMap => _node is YamlMappingNode;

    public bool IsList => _node is YamlSequenceNode;

    /// <summary>True for an empty value, <c>~</c> or <c>null</c>, unquoted.</summary>
    public bool IsNull => _node is YamlScalarNode { Style: YamlDotNet.Core.ScalarStyle.Plain, Value: null or "" or "~" or "null" };

    /// <summary>True where the value was written in quotes.</summary>
    public bool IsQuoted =>
        _node is YamlScalarNode { Style: YamlDotNet.Core.ScalarStyle.SingleQuoted or YamlDotNet.Core.ScalarStyle.DoubleQuoted };

    /// <summary>A complaint about this node.</summary>
    public Failure Wrong(string message) => Failure.Definition(File, Line, message);

    /// <summary>The pairs of a map, in file order.</summary>
    public IEnumerable<(string Key, YamlNode Value)> Pairs()
    {
        if (_node is not YamlMappingNode map)
            throw Wrong("expected a list of `key: value` pairs here");
        foreach (var (key, value) in map.Children)
            yield return (KeyOf(key), new YamlNode(value, File));
    }

    private string KeyOf(YamlDotNet.RepresentationModel.YamlNode key) => key is YamlScalarNode { Value: var name }
        ? name ?? ""
        : throw new YamlNode(key, File).Wrong("a list or a map cannot be a key; write `key: value` with a plain key");

    /// <summary>The items of a list, in file order.</summary>
    public IEnumerable<YamlNode> Items()
    {
        if (_node is not YamlSequenceNode list)
            throw Wrong("expected a list here");
        return list.Children.Select(item => new YamlNode(item, File));
    }

    /// <summary>Every text in it, at whatever depth, in file order; keys are left out.</summary>
    public IEnumerable<string> Texts() => _node switch
    {
        YamlMappingNode => Pairs().SelectMany(pair => pair.Value.Texts()),
        YamlSequenceNode => Items().SelectMany(item => item.Texts()),
        _ => [(_node as YamlScalarNode)?.Value ?? ""],
    };

    /// <summary>A map whose keys are all among <paramref name="known"/>; an unknown key is an error at its line.</summary>
    public YamlMap Map(YamlKeys known)
    {
        ArgumentNullException.ThrowIfNull(known);
        return Map([.. known.Names]);
    }

    /// <summary>The same for a file that only the tool has, which no page explains.</summary>
    public YamlMap Map(params string[] known)
    {
        var pairs = new Dictionary<string, YamlNode>(StringComparer.Ordinal);
        foreach (var (key, value) in Pairs())
            pairs[key] = known.Contains(key)
                ? value
                : throw Failure.Definition(File, LineOf(key), $"unknown key `{key}`; known here: {string.Join(", ", known)}");
        return new YamlMap(this, pairs);
    }

    // A value can start lines below its key.
    private int LineOf(string key) =>
        (int)((YamlMappingNode)_node).Children.Keys
            .First(each => each is YamlScalarNode { Value: var name } && (name ?? "") == key).Start.Line;

    /// <summary>The scalar as text; an empty scalar is the empty text.</summary>
    public string Text() => _node is YamlScalarNode scalar ? scalar.Value ?? "" : throw Wrong("expected a single value here");

    public int Integer() =>
        int.TryParse(Text(), NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var value)
            ? value
            : throw Wrong("expected a whole number here");

    public decimal Number() =>
        decimal.TryParse(Text(), NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint,
            CultureInfo.InvariantCulture, out var value)
            ? value
            : throw Wrong("expected a number here");

    /// <summary>A date of <see cref="ReportedTime"/>.</summary>
    /// <param name="what">What to say where it is none.</param>
    public DateOnly Date(string what = "expected a date such as 2026-03-31 here") => ReportedTime.TryParse(Text(), out DateOnly date)
        ? date
        : throw Wrong($"{what}, in the years {ReportedTime.Years}");

    public bool YesNo() => Text() switch
    {
        "true" or "yes" => true,
        "false" or "no" => false,
        _ => throw Wrong("expected true or false here"),
    };

    /// <summary>One of the named choices.</summary>
    public T Choice<T>(params (string Word, T Value)[] choices)
    {
        var word = Text();
        foreach (var choice in choices)
            if (choice.Word == word)
                return choice.Value;
        throw Wrong($"expected one of {string.Join(", ", choices.Select(choice => choice.Word))} here");
    }
}
