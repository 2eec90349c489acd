"""Where figures come from, and the history of loads."""

from django.db import migrations, models


class Migration(migrations.Migration):

    initial = True

    dependencies = [
    ]

    operations = [
        migrations.CreateModel(
            name='Source',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('code', models.CharField(help_text='Short word by which parts refer to this source.', max_length=64, unique=True)),
                ('kind', models.CharField(choices=[('measured', 'measured on a bench'), ('declared', 'declared by the maker'), ('estimated', 'estimated')], help_text='How the figures came about; it decides how sure they are by default.', max_length=32)),
                ('bench', models.CharField(blank=True, default='', help_text='Name of the bench, for measured figures.', max_length=120)),
                ('date', models.DateField(blank=True, help_text='Day of the measurement, declaration or estimate.', null=True)),
                ('note', models.CharField(blank=True, default='', help_text='What a reader should know about it.', max_length=2000)),
            ],
            options={
                'ordering': ['code'],
                'constraints': [models.CheckConstraint(condition=models.Q(('kind__in', ['measured', 'declared', 'estimated'])), name='source_kind_known', violation_error_message='must be one of measured, declared, estimated'), models.CheckConstraint(condition=models.Q(models.Q(('kind', 'measured'), _negated=True), models.Q(('bench', ''), _negated=True), _connector='OR'), name='source_measured_on_a_bench', violation_error_message='a measured source needs the name of its bench')],
            },
        ),
        migrations.CreateModel(
            name='Maker',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('code', models.CharField(help_text='Short word for the maker.', max_length=64, unique=True)),
                ('name', models.CharField(help_text='Name of the maker, by which parts refer to it.', max_length=80, unique=True)),
                ('note', models.CharField(blank=True, default='', help_text='What a reader should know about the maker.', max_length=2000)),
            ],
            options={
                'ordering': ['name'],
            },
        ),
        migrations.CreateModel(
            name='CatalogLoad',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('loaded_at', models.DateTimeField(help_text='When the load was committed.')),
                ('files_sha256', models.CharField(help_text='Digest of the files as read.', max_length=64)),
                ('catalog_sha256', models.CharField(help_text='Digest of the whole catalogue as it was left.', max_length=64)),
                ('added', models.PositiveIntegerField(help_text='Parts that were new.')),
                ('changed', models.PositiveIntegerField(help_text='Parts that differed.')),
                ('removed', models.PositiveIntegerField(help_text='Parts that were pruned.')),
            ],
            options={
                'ordering': ['-pk'],
                'constraints': [models.CheckConstraint(condition=models.Q(('added__gte', 0), ('added__lte', 1000000)), name='catalogload_added_range', violation_error_message='must be a whole number from 0 to 1000000'), models.CheckConstraint(condition=models.Q(('changed__gte', 0), ('changed__lte', 1000000)), name='catalogload_changed_range', violation_error_message='must be a whole number from 0 to 1000000'), models.CheckConstraint(condition=models.Q(('removed__gte', 0), ('removed__lte', 1000000)), name='catalogload_removed_range', violation_error_message='must be a whole number from 0 to 1000000')],
            },
        ),
    ]
