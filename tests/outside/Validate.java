// Holds PDFs against PDF/UA-1 (ISO 14289-1) and PDF/A-2a (ISO 19005-2) with veraPDF's engine,
// which shares no code with this project. Exit code 2 where a file breaks a rule or cannot be read.

import java.io.File;
import java.io.InputStream;
import java.util.TreeSet;
import org.verapdf.gf.foundry.VeraGreenfieldFoundryProvider;
import org.verapdf.pdfa.Foundries;
import org.verapdf.pdfa.PDFAParser;
import org.verapdf.pdfa.PDFAValidator;
import org.verapdf.pdfa.flavours.PDFAFlavour;
import org.verapdf.pdfa.results.TestAssertion;
import org.verapdf.pdfa.results.ValidationResult;
import org.verapdf.pdfa.validation.profiles.Profiles;
import org.verapdf.pdfa.validation.profiles.ValidationProfile;

public class Validate {
    static final String[][] STANDARDS = {{"ua1", "PDFUA-1.xml"}, {"2a", "PDFA-2A.xml"}};

    public static void main(String[] paths) throws Exception {
        VeraGreenfieldFoundryProvider.initialise();
        boolean clean = true;
        for (String[] standard : STANDARDS) {
            PDFAFlavour flavour = PDFAFlavour.byFlavourId(standard[0]);
            ValidationProfile profile;
            String rules = "/org/verapdf/pdfa/validation/" + standard[1];
            try (InputStream in = PDFAFlavour.class.getResourceAsStream(rules)) {
                profile = Profiles.profileFromXml(in);
            }
            int assertions = 0;
            for (String path : paths) {
                try (PDFAParser parser = Foundries.defaultInstance().createParser(new File(path), flavour);
                        PDFAValidator validator = Foundries.defaultInstance().createValidator(profile, false)) {
                    ValidationResult result = validator.validate(parser);
                    assertions += result.getTotalAssertions();
                    clean &= result.isCompliant();
                    TreeSet<String> told = new TreeSet<>();
                    for (TestAssertion test : result.getTestAssertions()) {
                        if (test.getStatus() == TestAssertion.Status.FAILED) {
                            told.add(test.getRuleId().getClause() + ": " + test.getMessage());
                        }
                    }
                    told.forEach(fault -> System.out.println(path + ": " + fault));
                } catch (Exception fault) {
                    System.out.println(path + ": not read: " + fault.getMessage());
                    clean = false;
                }
            }
            System.out.println(standard[0] + ": " + paths.length + " files, " + assertions + " assertions");
        }
        System.exit(clean ? 0 : 2);
    }
}
