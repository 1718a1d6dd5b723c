using Outcomes.Records;
using YamlDotNet.RepresentationModel;

namespace Outcomes.Measures.Yaml;

/// <summary>
/// Reads a definition file into <see cref="YamlNode"/>s that know their line. Anchors and tags are refused (a few hundred bytes
/// of nested aliases can expand without limit), and so is what no definition needs: deep nesting, NUL characters, a file over 4 MiB.
/// </summary>
public static class YamlFile
{
    /// <summary>The single document in <paramref name="text"/>; <paramref name="file"/> names it in messages.</summary>
    public static YamlNode Read(string text, string file)
    {
        if (text.Length > DefinitionText.MaximumBytes)
            throw Failure.Definition(file, 0, "the file is over 4 MiB; split it");
        // The library takes a NUL for the end of the file, and would leave out what follows.
        if (text.IndexOf('\0', StringComparison.Ordinal) is var zero and >= 0)
            throw Failure.Definition(file, 1 + text.AsSpan(0, zero).Count('\n'), "the file holds a NUL character; remove it");
        var parser = new PlainParser(text, file);
        try
        {
            var stream = new YamlStream();
            stream.Load(parser);
            if (stream.Documents.Count != 1)
                throw Failure.Definition(file, 1, $"expected one YAML document, found {stream.Documents.Count}");
            return new YamlNode(stream.Documents[0].RootNode, file);
        }
        catch (Exception e) when (e is not (Failure or OutOfMemoryException))
        {
            // The library throws other exceptions than its own too, such as for `[#x]`.
            throw parser.Invalid(e);
        }
    }

    /// <summary>The file at <paramref name="path"/>, named <paramref name="shown"/> in messages.</summary>
    public static YamlNode ReadPath(string path, string shown) => Read(DefinitionText.Read(path, shown), shown);
}
