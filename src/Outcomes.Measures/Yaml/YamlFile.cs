using Outcomes.Records;
using YamlDotNet.Core;
using YamlDotNet.Core.Events;
using YamlDotNet.RepresentationModel;

namespace Outcomes.Measures.Yaml;

/// <summary>
/// Reads a definition file into <see cref="YamlNode"/>s that know their line. Anchors and tags are refused (a few hundred bytes
/// of nested aliases can expand without limit), and so is a file over 4 MiB.
/// </summary>
public static class YamlFile
{
    private const int MaximumLength = 4 * 1024 * 1024;

    /// <summary>The single document in <paramref name="text"/>; <paramref name="file"/> names it in messages.</summary>
    public static YamlNode Read(string text, string file)
    {
        if (text.Length > MaximumLength)
            throw Failure.Definition(file, 0, "the file is over 4 MiB; split it");
        try
        {
            var stream = new YamlStream();
            stream.Load(new PlainParser(text, file));
            if (stream.Documents.Count != 1)
                throw Failure.Definition(file, 1, $"expected one YAML document, found {stream.Documents.Count}");
            return new YamlNode(stream.Documents[0].RootNode, file);
        }
        catch (YamlException e)
        {
            throw Failure.Definition(file, (int)e.Start.Line,
                $"not valid YAML near column {e.Start.Column}; check indentation, quotes and repeated keys");
        }
    }

    /// <summary>The file at <paramref name="path"/>, named <paramref name="shown"/> in messages.</summary>
    public static YamlNode ReadPath(string path, string shown)
    {
        try
        {
            return Read(File.ReadAllText(path), shown);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw Failure.Definition(shown, 0, "the file is missing or cannot be read; check the path");
        }
    }

    /// <summary>Passes events on as they come, and stops at the first that a definition file may not hold.</summary>
    private sealed class PlainParser(string text, string file) : IParser
    {
        private readonly Parser _parser = new(new StringReader(text));

        public ParsingEvent? Current => _parser.Current;

        public bool MoveNext()
        {
            if (!_parser.MoveNext())
                return false;
            var line = (int)(_parser.Current?.Start.Line ?? 0);
            if (_parser.Current is AnchorAlias || _parser.Current is NodeEvent { Anchor.IsEmpty: false })
                throw Failure.Definition(file, line, "anchors and aliases (& and *) are not allowed; write the value out");
            if (_parser.Current is NodeEvent { Tag.IsEmpty: false } node && !node.Tag.IsNonSpecific)
                throw Failure.Definition(file, line, "tags (!) are not allowed; write a plain value");
            return true;
        }
    }
}
