using Outcomes.Records;
using YamlDotNet.Core;
using YamlDotNet.Core.Events;

namespace Outcomes.Measures.Yaml;

/// <summary>Passes events on as they come, and stops at the first that a definition file may not hold.</summary>
internal sealed class PlainParser(string text, string file) : IParser
{
    /// <summary>Lists and maps within one another; the shipped files come to 6.</summary>
    private const int MaximumDepth = 64;

    private readonly Parser _parser = new(new StringReader(text));
    private readonly Stack<(int Line, bool IsFlow)> _open = [];
    private int _line = 1;

    public ParsingEvent? Current => _parser.Current;

    public bool MoveNext()
    {
        if (!_parser.MoveNext())
            return false;
        var line = _line = (int)(_parser.Current?.Start.Line ?? 0);
        if (_parser.Current is AnchorAlias || _parser.Current is NodeEvent { Anchor.IsEmpty: false })
            throw Failure.Definition(file, line, "anchors and aliases (& and *) are not allowed; write the value out");
        if (_parser.Current is NodeEvent { Tag.IsEmpty: false } node && !node.Tag.IsNonSpecific)
            throw Failure.Definition(file, line, "tags (!) are not allowed; write a plain value");
        if (_parser.Current is Scalar scalar && scalar.Value.Contains('\0', StringComparison.Ordinal))
            throw Failure.Definition(file, line, @"a NUL character (\0) is not allowed; remove it");
        switch (_parser.Current)
        {
            case MappingStart map: Enter(line, map.Style == MappingStyle.Flow); break;
            case SequenceStart list: Enter(line, list.Style == SequenceStyle.Flow); break;
            case MappingEnd or SequenceEnd: _open.Pop(); break;
        }

        return true;
    }

    /// <summary>What is wrong with the file, at the line that a person has to look at.</summary>
    public Failure Invalid(Exception e)
    {
        // A position of 0 is none: the library has lost it.
        var at = e is YamlException { Start.Index: > 0 } placed ? placed.Start : Mark.Empty;
        var known = at.Index > 0;
        if (!known && TabFrom(_line) is var tab and > 0)
            return Failure.Definition(file, tab, "a tab indents this line; YAML is indented by spaces");
        if (_open.TryPeek(out var open) && open.IsFlow)
            return Failure.Definition(file, open.Line, known
                ? $"the `[` or `{{` that opens here is not closed, or holds what is not valid YAML near line {at.Line}, "
                    + $"column {at.Column}; "
                    + "close it, and quote texts that hold # or brackets"
                : "the `[` or `{` that opens here holds what is not valid YAML; close it, and quote texts that hold # or brackets");
        return known
            ? Failure.Definition(file, (int)at.Line,
                $"not valid YAML near column {at.Column}; check indentation, quotes and repeated keys")
            : Failure.Definition(file, _line, "not valid YAML from here on; check indentation, quotes and repeated keys");
    }

    private void Enter(int line, bool isFlow)
    {
        _open.Push((line, isFlow));
        if (_open.Count > MaximumDepth)
            throw Failure.Definition(file, line,
                $"lists and maps are nested more than {MaximumDepth} deep here, as no definition is; close the brackets, or nest less");
    }

    // 0 where no line is indented so.
    private int TabFrom(int first)
    {
        var lines = text.Split('\n');
        for (var i = first - 1; i < lines.Length; i++)
            if (lines[i].AsSpan(0, lines[i].Length - lines[i].AsSpan().TrimStart(" \t").Length).Contains('\t'))
                return i + 1;
        return 0;
    }
}
